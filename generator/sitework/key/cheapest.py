"""The next question of the key: the one with which all of them together cost least."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import log2

from generator.sitework.key.odds import Odds, answered, at_first
from generator.sitework.key.questions import Asked

ENOUGH = 60_000
"""After so many different cases only the question that tells most for its price is followed up."""
_SAME = 1e-9


@dataclass(frozen=True)
class Best:
    """What the search from a case costs, in the mean, and the number of its first question."""

    cost: float
    first: int | None


@dataclass
class Cheapest:
    """Finds the order of questions with the least expected cost, each case once.

    Exact, by trying every question that tells anything; one is passed over once its own price and
    that of one more question after each answer come to more than the best known. Beyond `enough`
    cases the rest is greedy, and `exact` says so.
    """

    questions: Sequence[Asked]
    isolating: float
    enough: int = ENOUGH
    exact: bool = True
    known: dict[Odds, Best] = field(default_factory=dict)

    def best(self, odds: Odds) -> Best:
        """Return the first question to ask here, and what all cost until nothing tells more."""
        if odds not in self.known:
            self.known[odds] = self._best(odds)
        return self.known[odds]

    def expected(self, systems: int) -> float:
        """Return what the key to so many systems costs, in the mean."""
        return self.best(at_first(self.questions, systems)).cost

    def price(self, odds: Odds, number: int) -> float:
        """Return what a question is counted as here, isolating included where it is the first."""
        question = self.questions[number]
        return question.price + (self.isolating if question.opened and not odds.opened else 0)

    def _best(self, odds: Odds) -> Best:
        best = Best(0.0, None)
        for least, number, price in self._promising(odds):
            if best.first is not None and least >= best.cost - _SAME:
                break
            cost = self._cost(odds, number, price, best)
            if best.first is None or cost < best.cost - _SAME:
                best = Best(cost, number)
        return best

    def _promising(self, odds: Odds) -> tuple[tuple[float, int, float], ...]:
        """Return questions with the least they can lead to and their price, the best first."""
        options = sorted(self._option(odds, number) for number in odds.usable)
        if options and len(self.known) > self.enough:
            self.exact = False
            return (max(options, key=lambda option: self._told(odds, option[1]) / option[2]),)
        return tuple(options)

    def _option(self, odds: Odds, number: int) -> tuple[float, int, float]:
        price = self.price(odds, number)
        more = sum(share * min((self.price(then, n) for n in then.usable), default=0)
                   for _, share, then in answered(self.questions, odds, number))
        return round(price + more, 9), number, price

    def _told(self, odds: Odds, number: int) -> float:
        """Return by how many bits a question narrows down what remains, in the mean."""
        return log2(odds.left.bit_count()) - sum(
            share * log2(then.left.bit_count())
            for _, share, then in answered(self.questions, odds, number))

    def _cost(self, odds: Odds, number: int, price: float, best: Best) -> float:
        cost = price
        for _, share, then in answered(self.questions, odds, number):
            cost += share * self.best(then).cost
            if best.first is not None and cost >= best.cost:
                break
        return cost
