"""What each page says, as plain values; templates only lay them out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from generator.checks.catalogue import JOB_RULES, SYSTEM_RULES
from generator.checks.rule import Rule, Verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.flat import Conductor, part_of
from generator.circuit.potentials import could_be_live
from generator.judging.judged import Verdicts
from generator.pages.choices_view import Asked
from generator.pages.finder_view import FinderView, finder_view
from generator.pages.sheets import not_drawn
from generator.recipe.articles import Part
from generator.recipe.conversions import Conversion
from generator.recipe.costs import USUAL, Costs
from generator.recipe.variants import Variant
from generator.recipe.wall import Source, Wall
from generator.recipe.words import SetUp
from generator.sitework.catalogue import MET_RULES, SITE_JOB_RULES, SITE_RULES
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


@dataclass(frozen=True)
class TerminalRow:
    """One terminal of a strip or part and the conductors that land on it."""

    terminal: str
    says: str
    conductors: tuple[Conductor, ...]


@dataclass(frozen=True)
class SystemView:
    """A system page."""

    name: str
    wall: Wall
    rows: tuple[tuple[str, tuple[TerminalRow, ...]], ...]
    numbers: Numbers
    settled: int
    states: int
    verdicts: Verdicts
    variant: Variant | None


def system_view(
    subject: Subject, verdicts: Verdicts, variant: Variant | None = None
) -> SystemView:
    """Return everything that a system page says."""
    rows = tuple((name, tuple(_rows(subject, name))) for name in subject.wall.parts)
    return SystemView(
        subject.wall.name,
        subject.wall,
        tuple(r for r in rows if r[1]),
        numbers(subject),
        subject.settled.bit_count(),
        subject.potentials.space.size,
        verdicts,
        variant,
    )


def _rows(subject: Subject, part: str) -> Iterator[TerminalRow]:
    for name, terminal in subject.wall.parts[part].part.terminals.items():
        full = f"{part}:{name}"
        landed = tuple(
            c for c in subject.circuit.conductors if c.kind != "joint" and full in (c.a, c.b)
        )
        if landed or subject.wall.parts[part].part.letter == "X":
            yield TerminalRow(full, terminal.says, landed)


@dataclass(frozen=True)
class PartView:
    """A part page, with the systems it occurs in."""

    name: str
    part: Part
    systems: tuple[tuple[str, str], ...]


def part_view(source: Source, walls: tuple[Wall, ...]) -> PartView:
    """Return everything that a part page says."""
    assert isinstance(source.model, Part)
    used = tuple(
        (wall.name, wall.system.name)
        for wall in walls
        if any(p.placed.is_ == source.name for p in wall.parts.values())
    )
    return PartView(source.name, source.model, used)


@dataclass(frozen=True)
class RuleView:
    """A rule page's frame: what it rests on and where it was asked."""

    rule: Rule[Any]
    about: str
    asked: tuple[tuple[str, Verdict], ...]


def rule_views(judged: tuple[tuple[str, Verdicts], ...]) -> tuple[RuleView, ...]:
    """Return each rule with what came of it in every judged recipe, by the recipe's title."""
    kinds: list[tuple[Rule[Any], str]] = [(rule, "systems") for rule in SYSTEM_RULES]
    kinds += [(rule, "conversions") for rule in JOB_RULES]
    kinds += [(rule, "systems and conversions") for rule in SITE_RULES]
    kinds += [(rule, "all systems together") for rule in MET_RULES]
    kinds += [(rule, "conversions") for rule in SITE_JOB_RULES]
    return tuple(
        RuleView(
            rule,
            about,
            tuple(
                (title, verdict)
                for title, verdicts in judged
                for asked, verdict in verdicts
                if asked is rule
            ),
        )
        for rule, about in kinds
    )
