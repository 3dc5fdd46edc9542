"""What a conversion page says, as plain values; templates only lay them out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256

from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import part_of
from generator.circuit.potentials import could_be_live
from generator.judging.judged import Verdicts
from generator.pages.choices_view import Asked
from generator.pages.finder_view import FinderView, finder_view
from generator.pages.sheets import not_drawn
from generator.recipe.conversions import Conversion
from generator.recipe.costs import USUAL, Costs
from generator.recipe.wall import Source, Wall
from generator.recipe.words import SetUp
from generator.sitework.changes import CableChange, Changes, Fate
from generator.sitework.competence import OPENED_BY, Competence, competences, stores_unvented
from generator.sitework.coverage import Coverage, coverage
from generator.sitework.dead_checks import (
    Inspection,
    Joined,
    inspections,
    strip_nets,
)
from generator.sitework.dead_lines import DeadSheet, dead_sheet
from generator.sitework.dead_stages import (
    Joining,
    LooseLive,
    WorkNotice,
    joinings,
    loose_live,
    work_dead_points,
    work_isolations,
    work_notices,
)
from generator.sitework.electronics import Off, low_loads, through_loads
from generator.sitework.isolation import DeadPoint, Isolation
from generator.sitework.live_tests import LiveTest, live_tests
from generator.sitework.materials import Material, materials
from generator.sitework.numbers import Numbers, numbers
from generator.sitework.other_steps import author_steps, switch_on_steps
from generator.sitework.plan import wiring
from generator.sitework.reuse import left_without
from generator.sitework.setting_up import (
    NOT_YET,
    JoiningSteps,
    after_the_tests,
    before_the_tests,
    joining,
    last_safety,
)
from generator.sitework.step import Step
from generator.sitework.survey import SurveyLine, survey
from generator.sitework.trials import Trials, trials
from generator.sitework.visits import Stop, stops
from generator.sitework.work import work


@dataclass(frozen=True)
class ConversionView:
    """A conversion page: the author's words in `words`, all else worked out."""

    name: str
    usual: bool
    choices: tuple[Asked, ...]
    words: Conversion
    found: Wall
    fitted: Wall
    competences: tuple[Competence, ...]
    survey: tuple[SurveyLine, ...]
    materials: tuple[Material, ...]
    isolations: tuple[Isolation, ...]
    dead_points: tuple[DeadPoint, ...]
    loose_live: tuple[LooseLive, ...]
    joinings: tuple[Joining, ...]
    work_notices: tuple[WorkNotice, ...]
    changes: Changes
    taken_over: tuple[CableChange, ...]
    left_without: dict[str, tuple[str, ...]]
    take_out: tuple[Stop, ...]
    take_out_then: tuple[Step, ...]
    fix: tuple[Step, ...]
    connect: tuple[Stop, ...]
    dead: DeadSheet
    numbers: Numbers
    inspections: tuple[Inspection, ...]
    strip: tuple[Joined, ...]
    opened_by: dict[str, str]
    unvented: bool
    through_loads: tuple[str, ...]
    low_loads: tuple[Off, ...]
    not_drawn: tuple[str, ...]
    coverage: Coverage
    tried: Trials
    tests: tuple[LiveTest, ...]
    signs: tuple[tuple[str, tuple[str, ...]], ...]
    finder: FinderView
    set_up: tuple[SetUp, ...]
    set_up_last: tuple[SetUp, ...]
    joining: JoiningSteps
    switch_on: tuple[Step, ...]
    last_safety: int
    not_yet: tuple[str, ...]
    verdicts: Verdicts
    digest: str


def conversion_view(
    job: JobSubject, verdicts: Verdicts, costs: Costs = USUAL, choices: tuple[Asked, ...] = ()
) -> ConversionView:
    """Return everything that a conversion page says."""
    done = work(job)
    change, opened, made = done.changes, done.opened, wiring(done)
    covered = coverage(job.fitted, opened)
    low = low_loads(job.fitted, opened)
    tried = trials(job.fitted, covered, job.job.conversion.expect)
    tests = live_tests(job.fitted, tried)
    return ConversionView(
        name=job.job.name,
        usual=job.job.name == job.job.of,
        choices=choices,
        words=job.job.conversion,
        found=job.job.found,
        fitted=job.job.fitted,
        competences=competences(job.job),
        survey=survey(job.job, change),
        materials=materials(done),
        isolations=work_isolations(done),
        dead_points=work_dead_points(done),
        loose_live=loose_live(done),
        joinings=joinings(done),
        work_notices=work_notices(done),
        changes=change,
        taken_over=tuple(c for c in change.cables if c.fate is Fate.REUSED),
        left_without=left_without(job, change),
        take_out=stops(done, made.take_out),
        take_out_then=author_steps(done),
        fix=made.fix,
        connect=stops(done, made.connect, fitted=True),
        dead=dead_sheet(covered),
        numbers=numbers(job.fitted),
        inspections=inspections(job.fitted, opened),
        strip=strip_nets(job.fitted),
        not_drawn=not_drawn(job.fitted),
        opened_by=OPENED_BY,
        unvented=stores_unvented(job.job.fitted),
        through_loads=through_loads(job.fitted, low),
        low_loads=low,
        coverage=covered,
        tried=tried,
        tests=tests,
        signs=tuple(_signs(job.fitted)),
        finder=finder_view(job, tried, costs),
        set_up=before_the_tests(job.job.conversion.set_up),
        set_up_last=after_the_tests(job.job.conversion.set_up),
        joining=joining(job.job),
        switch_on=switch_on_steps(done),
        last_safety=last_safety(tests),
        not_yet=NOT_YET,
        verdicts=verdicts,
        digest=digest(job),
    )


def _signs(fitted: Subject) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield how each part shows that it works; one that no supply comes to works at nothing."""
    live = {part_of(terminal) for supply in fitted.circuit.supplies
            for nets in (could_be_live(fitted.potentials, supply.name),)
            for terminal, net in fitted.potentials.nets.of.items() if nets.get(net)}
    for name, part in fitted.wall.parts.items():
        if part.part.signs and (name in live or not part.part.terminals):
            yield f"-{name} {part.called}", part.part.signs


def digest(job: JobSubject) -> str:
    """Return the SHA-256 of all a conversion page rests on: recipe, systems, parts, cables."""
    sources = (job.job.source, *_sources(job.job.found), *_sources(job.job.fitted))
    digests = sorted({source.document.digest for source in sources})
    return sha256("\n".join(digests).encode()).hexdigest()


def _sources(wall: Wall) -> Iterator[Source]:
    yield wall.source
    yield from (part.source for part in wall.parts.values())
    yield from (cable.source for cable in wall.cables.values())
