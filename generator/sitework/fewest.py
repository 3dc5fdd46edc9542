"""The fewest of some choices that together serve every need: exact while that is quick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MOST_STEPS = 20_000
"""Steps of the search after which the best found so far is taken; a judgement, no source."""


@dataclass(frozen=True)
class Chosen:
    """Numbers of the choices taken, and a bound below which no set of choices can be."""

    taken: tuple[int, ...]
    at_least: int


def fewest(needs: Sequence[int], given: tuple[int, ...] = ()) -> Chosen:
    """Return the fewest choices such that each need is served by one of them, `given` always in.

    A need is an int whose bits are the choices that serve it; a need with no bit cannot be served
    and is left out. A search that branches on the need with the fewest choices left, cut off by
    needs that share no choice (each wants one of its own).
    """
    taken = sum(1 << choice for choice in set(given))
    open_needs = _hardest([need for need in set(needs) if need and not need & taken])
    search = _Search(_greedy(open_needs))
    search.go(open_needs, ())
    at_least = len(search.best) if search.complete else _bound(open_needs)
    return Chosen((*dict.fromkeys(given), *sorted(search.best)), len(set(given)) + at_least)


def _hardest(needs: list[int]) -> list[int]:
    """Return needs without those that another one implies, those with the fewest choices first."""
    ordered = sorted(needs, key=lambda need: (need.bit_count(), need))
    kept: list[int] = []
    for need in ordered:
        if not any(other & need == other for other in kept):
            kept.append(need)
    return kept


def _greedy(needs: list[int]) -> tuple[int, ...]:
    taken: list[int] = []
    while needs:
        choice = max(_bits(_union(needs)), key=lambda c: (sum(n >> c & 1 for n in needs), -c))
        taken.append(choice)
        needs = [need for need in needs if not need >> choice & 1]
    return tuple(taken)


def _bound(needs: list[int]) -> int:
    """Return how many needs can be found that share no choice."""
    used = count = 0
    for need in needs:
        if not need & used:
            used, count = used | need, count + 1
    return count


class _Search:
    """Depth-first, best so far kept; `complete` where nothing was left untried."""

    def __init__(self, best: tuple[int, ...]) -> None:
        self.best = best
        self.steps = 0
        self.complete = True

    def go(self, needs: list[int], taken: tuple[int, ...]) -> None:
        self.steps += 1
        if self.steps > MOST_STEPS:
            self.complete = False
        elif not needs:
            self.best = min(self.best, taken, key=len)
        elif len(taken) + _bound(needs) < len(self.best):
            for choice in _bits(needs[0]):
                rest = _hardest([need for need in needs if not need >> choice & 1])
                self.go(rest, (*taken, choice))


def _union(needs: list[int]) -> int:
    union = 0
    for need in needs:
        union |= need
    return union


def _bits(number: int) -> list[int]:
    return [bit for bit in range(number.bit_length()) if number >> bit & 1]
