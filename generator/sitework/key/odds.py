"""What is still possible on a way through the key, and how likely each system is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import gcd, lcm

from generator.sitework.key.questions import Asked


@dataclass(frozen=True)
class Odds:
    """The systems still possible, and the questions that still tell something of them.

    `parts` are whole numbers in proportion to how likely each system is, 0 where it is ruled out;
    `usable` are numbers of questions; `opened` where something was made dead already, which is kept
    only while a question of that kind remains.
    """

    parts: tuple[int, ...]
    usable: tuple[int, ...]
    opened: bool

    @property
    def left(self) -> int:
        """The systems still possible, as bits."""
        return sum(1 << i for i, part in enumerate(self.parts) if part)


def at_first(questions: Sequence[Asked], systems: int) -> Odds:
    """Return that any of so many systems can be it, each as likely as another."""
    return _settled(questions, Odds((1,) * systems, tuple(range(len(questions))), False))


def answered(questions: Sequence[Asked], odds: Odds, number: int
             ) -> tuple[tuple[str, float, Odds], ...]:
    """Return for each answer to a question how likely it is, and what is possible then.

    A system that may show several answers shows each as likely as another.
    """
    question = questions[number]
    ways = [n for n, part in zip(question.ways, odds.parts, strict=True) if part]
    whole = lcm(*ways)
    opened = odds.opened or question.opened
    rest = tuple(each for each in odds.usable if each != number)
    made = []
    for answer, mask in question.among(odds.left):
        parts = [part * whole // n if mask >> i & 1 else 0 for i, (part, n) in enumerate(
            zip(odds.parts, question.ways, strict=True))]
        share = sum(parts) / (sum(odds.parts) * whole)
        made.append((answer, share, _settled(questions, Odds(_lowest(parts), rest, opened))))
    return tuple(made)


def without(questions: Sequence[Asked], odds: Odds, number: int) -> Odds:
    """Return what is possible where nobody can tell the answer to a question."""
    rest = tuple(each for each in odds.usable if each != number)
    return _settled(questions, replace(odds, usable=rest))


def _lowest(parts: Sequence[int]) -> tuple[int, ...]:
    common = gcd(*parts)
    return tuple(part // common for part in parts)


def _settled(questions: Sequence[Asked], odds: Odds) -> Odds:
    """Return the same without what no longer matters, so that equal cases are one."""
    left = odds.left
    usable = tuple(each for each in odds.usable if questions[each].tells(left))
    opened = odds.opened and any(questions[each].opened for each in usable)
    return Odds(odds.parts, usable, opened)
