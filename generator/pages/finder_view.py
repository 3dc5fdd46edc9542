"""What a page says of the fault finder: each complaint, its questions, the test that ends it."""

from __future__ import annotations

from dataclasses import dataclass

from generator.checks.subject import JobSubject
from generator.recipe.costs import Costs
from generator.sitework.coverage import coverage
from generator.sitework.finder.figures import Figures
from generator.sitework.finder.questions import Question
from generator.sitework.finder.searches import Search, finder
from generator.sitework.trials import Trials


@dataclass(frozen=True)
class ComplaintView:
    """A complaint with its questions; `faults` where there is nothing to ask.

    `trips` where the supply must stay off; `astray` are valves that are open and should be shut,
    `hot` where one of them feeds what a cut-out guards; `test` is the number of the live test with
    the same setting, 0 if there is none.
    """

    words: str
    also: tuple[str, ...]
    trips: bool
    astray: tuple[str, ...]
    hot: bool
    suspects: int
    figures: Figures
    questions: tuple[Question, ...]
    faults: tuple[str, ...]
    test: int


@dataclass(frozen=True)
class FinderView:
    """Every complaint, the figures of all of them, and what moves were counted as."""

    complaints: tuple[ComplaintView, ...]
    expected: float
    bound: float
    worst: int
    costs: Costs


def finder_view(job: JobSubject, tried: Trials, costs: Costs) -> FinderView:
    """Return the fault finder of the fitted system; any part may be opened, the job long done."""
    found = finder(job.fitted, coverage(job.fitted), job.job.conversion.expect, costs)
    return FinderView(tuple(_complaint(search, tried) for search in found.searches),
                      found.expected, found.bound, found.worst, costs)


def _complaint(search: Search, tried: Trials) -> ComplaintView:
    complaint = search.complaint
    tests = (number for number, trial in enumerate(tried.trials, 1)
             if trial.setting == complaint.case.setting)
    return ComplaintView(complaint.words, complaint.also, complaint.trips, complaint.astray,
                         complaint.hot, complaint.suspects.bit_count(), search.figures,
                         search.questions, search.faults, next(tests, 0))


