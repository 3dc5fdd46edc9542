"""The fault finder of a system: every complaint with its questions and its figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.recipe.costs import USUAL, Costs
from generator.recipe.words import Expected
from generator.sitework.coverage import Coverage
from generator.sitework.finder.choice import End, Tree, tree
from generator.sitework.finder.complaints import Complaint, complaints
from generator.sitework.finder.figures import Figures, figures
from generator.sitework.finder.ground import Ground, ground
from generator.sitework.finder.measurements import measurements
from generator.sitework.finder.questions import Question, faults_left, questions
from generator.sitework.finder.suspects import Suspect, suspects


@dataclass(frozen=True)
class Search:
    """A complaint, the tree of questions, the same in words, and how long it takes.

    `faults` is what it must be where there is nothing to ask.
    """

    complaint: Complaint
    tree: Tree
    questions: tuple[Question, ...]
    faults: tuple[str, ...]
    figures: Figures


@dataclass(frozen=True)
class Finder:
    """All searches of a system, on the ground they are made on, among its suspects."""

    ground: Ground
    suspects: tuple[Suspect, ...]
    searches: tuple[Search, ...]
    costs: Costs

    @property
    def expected(self) -> float:
        """The mean over all complaints of the measurements that are expected."""
        return _mean([search.figures.expected for search in self.searches])

    @property
    def bound(self) -> float:
        """The mean over all complaints of the least that can be expected of two answers each."""
        return _mean([search.figures.bound for search in self.searches])

    @property
    def worst(self) -> int:
        """The most measurements that any fault takes."""
        return max((search.figures.worst for search in self.searches), default=0)


def finder(subject: Subject, coverage: Coverage, expected: Sequence[Expected] = (),
           costs: Costs = USUAL) -> Finder:
    """Return the search for every complaint; `expected` are the author's cases, if any."""
    reached = ground(subject, coverage, expected)
    among = suspects(reached, coverage)
    asked = measurements(reached, among)

    def search(complaint: Complaint) -> Search:
        grown = tree(reached, complaint, asked, costs)
        left = faults_left(reached, among, grown) if isinstance(grown, End) else ()
        return Search(complaint, grown, questions(reached, among, grown), left, figures(grown))

    return Finder(reached, among, tuple(map(search, complaints(reached, among))), costs)


def _mean(numbers: Sequence[float]) -> float:
    return sum(numbers) / len(numbers) if numbers else 0.0
