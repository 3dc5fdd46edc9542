"""What each question tells of the systems that are met, and what it is counted as."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.recipe.costs import Costs
from generator.recipe.met import AllMet, Met
from generator.recipe.signs import Question

AFTER = "after opening"


@dataclass(frozen=True)
class Asked:
    """A question over systems numbered from 0.

    `given` holds for each answer the systems that may show it, as bits; `ways` for each system how
    many answers it may show; `price` what asking is counted as, the isolating apart.
    """

    name: str
    question: Question
    price: float
    given: tuple[tuple[str, int], ...]
    ways: tuple[int, ...]

    @property
    def opened(self) -> bool:
        """Whether something is made dead and opened for it."""
        return self.question.when == AFTER

    def among(self, left: int) -> tuple[tuple[str, int], ...]:
        """Return the answers that some of these systems show, each with those systems."""
        return tuple((answer, mask & left) for answer, mask in self.given if mask & left)

    def tells(self, left: int) -> bool:
        """Tell whether some answer rules one of these systems out."""
        return any(mask != left for _, mask in self.among(left))


def asked(met: AllMet, costs: Costs) -> tuple[Asked, ...]:
    """Return every question, in the order of the signs, over the systems that say how they look."""
    return tuple(_asked(name, question, met.told, costs)
                 for name, question in met.signs.questions.items())


def _asked(name: str, question: Question, systems: Sequence[Met], costs: Costs) -> Asked:
    shown = [each.answers(name) or tuple(question.answers) for each in systems]
    given = ((answer, sum(1 << i for i, answers in enumerate(shown) if answer in answers))
             for answer in question.answers)
    return Asked(name, question, price(question, costs), tuple(given),
                 tuple(len({*answers}) for answers in shown))


def price(question: Question, costs: Costs) -> float:
    """Return what a question is counted as: a look, the control it moves, the cover it opens."""
    tried = costs.control + costs.valve if question.takes == "a try" else 0
    return costs.reading + tried + (costs.lid if question.when == AFTER else 0)
