"""The whole way: read, wire, check, plan, publish. Nothing here prints or writes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from generator.findings import Finding, Place, Unreadable, in_order, mistake
from generator.judging.judged import Judged, Verdicts
from generator.judging.recipes import judge
from generator.judging.together import met_verdicts
from generator.recipe.costs import USUAL, Costs
from generator.recipe.library import Library
from generator.recipe.meeting import all_met
from generator.recipe.met import NOBODY, AllMet
from generator.recipe.wall import Source
from generator.reports.summary import Tally

if TYPE_CHECKING:
    from generator.pages.kept import Kept
    from generator.pages.site import SitePage

Progress = Callable[[str], None]
Judge = Callable[[Library, Source], tuple[Judged, ...]]


@dataclass(frozen=True)
class Handbook:
    """Every recipe that was asked for: judged, or the mistakes that kept it from being read."""

    judged: tuple[Judged, ...]
    unread: tuple[Finding, ...]
    missed: tuple[str, ...] = ()
    """Files that could not be judged: they hold mistakes, or use a file that does."""
    met: AllMet = NOBODY
    """Every system that may be met; none where not all recipes were asked for."""

    @cached_property
    def together(self) -> Verdicts:
        """What the rules say of all systems together that may be met."""
        return met_verdicts(self.met) if self.met.systems else ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, and what could not be read, in order."""
        ruled = (f for _, verdict in self.together for f in verdict.findings)
        return in_order([*self.unread, *ruled, *(f for each in self.judged for f in each.findings)])

    @property
    def tally(self) -> Tally:
        """What it came to."""
        mistaken = {finding.places[0].file for finding in self.unread}
        unread = len({*self.missed} & mistaken)
        verdicts = [pair for each in self.judged for pair in each.verdicts] + [*self.together]
        waits_for = [each.waits_for for each in self.judged if each.waits_for]
        met = {rule.name for rule, verdict in verdicts if verdict.asked}
        return Tally(
            read=len({each.source.document.file for each in self.judged}), unread=unread,
            unjudged=len(self.missed) - unread,
            findings=len(self.findings), asked=bool(verdicts),
            waits_for=tuple(dict.fromkeys(waits_for)),
            unmet=tuple(sorted({rule.name for rule, _ in verdicts} - met)))

    @property
    def costs(self) -> Costs:
        """What the moves of the fault finder are counted as."""
        said = (each.source.model for each in self.judged)
        return next((model for model in said if isinstance(model, Costs)), USUAL)


def every_file(root: Path) -> tuple[Path, ...]:
    """Return all files below a recipes folder, in the order in which they build up."""
    return Library(root).below(root)


def check(
    root: Path, files: Iterable[Path], progress: Progress = lambda _: None, judge: Judge = judge
) -> Handbook:
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
            judged += judge(library, library.source(path))
        except Unreadable as unreadable:
            unread += unreadable.findings
            missed.append(library.shown(path))
    if not (judged or unread):
        unread.append(_nothing(library))
    met = NOBODY if unread else _met(library, judged)
    return Handbook(tuple(judged), in_order(unread), tuple(missed), met)


def _met(library: Library, judged: Iterable[Judged]) -> AllMet:
    """Return every system that may be met; none unless all recipes were asked for and read."""
    read = {each.source.document.file for each in judged}
    every = (path for folder in ("systems", "conversions") for path in library.files(folder))
    return all_met(library) if read.issuperset(map(library.shown, every)) else NOBODY


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


def publish(
    handbook: Handbook, templates: Path, kept: Kept | None = None
) -> tuple[SitePage, ...]:
    """Return the pages of a handbook; only the findings where there are any."""
    # Pages are read only here: a check makes none, and they take a third of its start.
    from generator.pages.book import book
    from generator.pages.site import findings_page

    if handbook.findings:
        return (findings_page(templates, handbook.findings),)
    return tuple(book(templates, handbook.judged, handbook.costs, handbook.met, handbook.together,
                      kept))
