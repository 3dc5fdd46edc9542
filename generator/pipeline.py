"""The whole way: read, wire, check, plan, publish. Nothing here prints or writes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.checks.catalogue import FOUND_RULES, JOB_RULES, ON_PAPER, SYSTEM_RULES
from generator.checks.rule import Rule, Verdict
from generator.checks.subject import JobSubject, Subject, job_subject, subject
from generator.findings import Finding, Place, Severity, Unreadable, in_order, mistake
from generator.recipe.articles import Cable, Part
from generator.recipe.conversions import Conversion
from generator.recipe.costs import USUAL, Costs
from generator.recipe.costs_file import costs_mistakes
from generator.recipe.library import Library
from generator.recipe.parts import part_mistakes
from generator.recipe.reader import read_job, read_wall
from generator.recipe.signs import Signs
from generator.recipe.signs_file import signs_mistakes
from generator.recipe.systems import System
from generator.recipe.wall import Source
from generator.reports.summary import Tally
from generator.sitework.rules import fault_shows_in_no_test

if TYPE_CHECKING:
    from generator.pages.site import SitePage

Progress = Callable[[str], None]
Verdicts = tuple[tuple[Rule[Any], Verdict], ...]


@dataclass(frozen=True)
class Judged:
    """A recipe that could be read, and what the rules say of it; parts and cables carry no rule."""

    source: Source
    subject: Subject | JobSubject | None
    verdicts: Verdicts

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that was found, in order."""
        return in_order(f for _, verdict in self.verdicts for f in verdict.findings)

    @property
    def waits_for(self) -> str:
        """The system that must be mended before a conversion to it is judged whole, or nothing."""
        if not isinstance(self.subject, JobSubject):
            return ""
        asked = {rule.name for rule, _ in self.verdicts}
        whole = all(rule.name in asked for rule in JOB_RULES)
        return "" if whole else self.subject.job.fitted.name


@dataclass(frozen=True)
class Handbook:
    """Every recipe that was asked for: judged, or the mistakes that kept it from being read."""

    judged: tuple[Judged, ...]
    unread: tuple[Finding, ...]
    missed: tuple[str, ...] = ()
    """Files that could not be judged: they hold mistakes, or use a file that does."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, and what could not be read, in order."""
        return in_order([*self.unread, *(f for each in self.judged for f in each.findings)])

    @property
    def tally(self) -> Tally:
        """What it came to."""
        mistaken = {finding.places[0].file for finding in self.unread}
        unread = len({*self.missed} & mistaken)
        verdicts = [pair for each in self.judged for pair in each.verdicts]
        waits_for = [each.waits_for for each in self.judged if each.waits_for]
        met = {rule.name for rule, verdict in verdicts if verdict.asked}
        return Tally(
            read=len(self.judged), unread=unread, unjudged=len(self.missed) - unread,
            findings=len(self.findings), asked=bool(verdicts),
            waits_for=tuple(dict.fromkeys(waits_for)),
            unmet=tuple(sorted({rule.name for rule, _ in verdicts} - met)))

    @property
    def costs(self) -> Costs:
        """What the moves of the fault finder are counted as."""
        said = (each.source.model for each in self.judged)
        return next((model for model in said if isinstance(model, Costs)), USUAL)

    def parts(self) -> tuple[Source, ...]:
        """The parts and cables among the recipes."""
        return tuple(each.source for each in self.judged
                     if isinstance(each.source.model, Part | Cable))


def every_file(root: Path) -> tuple[Path, ...]:
    """Return all files below a recipes folder, in the order in which they build up."""
    return Library(root).below(root)


def check(root: Path, files: Iterable[Path], progress: Progress = lambda _: None) -> Handbook:
    """Read and judge recipes; `root` is the folder that holds parts, systems and conversions.

    A folder among the files means all that is below it; with a part comes what uses it.
    """
    library = Library(root)
    judged: list[Judged] = []
    unread: list[Finding] = []
    missed: list[str] = []
    for path in _asked_for(library, files):
        progress(library.shown(path))
        try:
            judged.append(judge(library, library.source(path)))
        except Unreadable as unreadable:
            unread += unreadable.findings
            missed.append(library.shown(path))
    if not (judged or unread):
        unread.append(_nothing(library))
    return Handbook(tuple(judged), in_order(unread), tuple(missed))


def _asked_for(library: Library, files: Iterable[Path]) -> tuple[Path, ...]:
    named = [path for each in files
             for path in ((each.is_dir() and library.below(each)) or (each,))]
    users = [path for each in named if each.parent.resolve() == (library.root / "parts").resolve()
             for path in library.users(each.stem)]
    return tuple({path.resolve(): path for path in [*named, *users]}.values())


def _nothing(library: Library) -> Finding:
    place = Place(library.shown(library.root), 1, 1)
    return mistake("no-such-file", "There is no recipe here.", place,
                   found="nothing", expected="parts, systems and conversions, each in its folder")


def judge(library: Library, source: Source) -> Judged:
    """Hold one recipe against every rule that is about its kind; raises Unreadable."""
    model = source.model
    if isinstance(model, Part) and (mistakes := list(part_mistakes(source, model))):
        raise Unreadable(mistakes)
    if isinstance(model, Costs) and (mistakes := list(costs_mistakes(source))):
        raise Unreadable(mistakes)
    if isinstance(model, Signs) and (mistakes := list(signs_mistakes(source))):
        raise Unreadable(mistakes)
    if isinstance(model, System):
        system = subject(read_wall(library, source, model))
        return Judged(source, system, _with_tests(
            tuple(_judged_system(system)), lambda: _judged_tests(system)))
    if isinstance(model, Conversion):
        job = job_subject(read_job(library, source, model))
        return Judged(source, job, _with_tests(
            tuple(_judged_job(job)), lambda: fault_shows_in_no_test.judge_job(job)))
    return Judged(source, None, ())


def _judged_system(system: Subject) -> Iterator[tuple[Rule[Any], Verdict]]:
    """Only the company's own systems are held to every rule; what is found is as it is."""
    if system.wall.system.stands == "standard":
        yield from ((rule, rule.judge(system)) for rule in SYSTEM_RULES)
    else:
        yield from ((rule, _as_warnings(rule.judge(system))) for rule in FOUND_RULES)


def _with_tests(verdicts: Verdicts, judge: Callable[[], Verdict | None]) -> Verdicts:
    """Add what the tests on site would miss; a circuit with errors has no tests worth the name."""
    wrong = any(f.severity is Severity.ERROR for _, verdict in verdicts for f in verdict.findings)
    missed = None if wrong else judge()
    return (*verdicts, (fault_shows_in_no_test.RULE, missed)) if missed else verdicts


def _judged_tests(system: Subject) -> Verdict | None:
    if system.wall.system.stands != "standard":
        return None
    return fault_shows_in_no_test.judge(system)


def _as_warnings(verdict: Verdict) -> Verdict:
    return replace(verdict, findings=tuple(
        replace(finding, severity=Severity.WARNING) for finding in verdict.findings))


def _judged_job(job: JobSubject) -> Iterator[tuple[Rule[Any], Verdict]]:
    """What the fitted system does wrong would come back as a dozen faults of the conversion."""
    fitted = tuple(_judged_system(job.fitted))
    wrong = any(finding.severity is Severity.ERROR
                for _, verdict in fitted for finding in verdict.findings)
    yield from fitted
    yield from ((rule, rule.judge(job)) for rule in (ON_PAPER if wrong else JOB_RULES))


def publish(handbook: Handbook, templates: Path) -> tuple[SitePage, ...]:
    """Return the pages of a handbook; only the findings where there are any."""
    # Pages are read only here: a check makes none, and they take a third of its start.
    from generator.pages.book import book
    from generator.pages.site import findings_page

    if handbook.findings:
        return (findings_page(templates, handbook.findings),)
    return tuple(book(
        templates,
        handbook.parts(),
        tuple((each.subject, each.verdicts) for each in handbook.judged
              if isinstance(each.subject, Subject)),
        tuple((each.subject, each.verdicts) for each in handbook.judged
              if isinstance(each.subject, JobSubject)),
        handbook.costs,
    ))
