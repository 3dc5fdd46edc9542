"""How many questions the key takes: expected, at worst, and the least there could be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log2

from generator.sitework.key.odds import Odds, answered, at_first
from generator.sitework.key.questions import Asked
from generator.sitework.key.tree import End, Tree


@dataclass(frozen=True)
class Figures:
    """Questions to the end where each is answered, each system as likely as another.

    `bound` is what no order could do with less than: the bits by which the key narrows the systems
    down, over the bits in an answer of the question that has the most.
    """

    expected: float
    worst: int
    bound: float


def figures(questions: Sequence[Asked], systems: int, tree: Tree) -> Figures:
    """Return the figures of a key."""
    if not systems:
        return Figures(0.0, 0, 0.0)
    ends = list(_ends(questions, at_first(questions, systems), tree, 1.0, 0))
    told = log2(systems) - sum(share * log2(left) for share, _, left in ends)
    most = max((len(each.among((1 << systems) - 1)) for each in questions), default=1)
    return Figures(sum(share * depth for share, depth, _ in ends),
                   max(depth for _, depth, _ in ends),
                   told / log2(most) if most > 1 else 0.0)


def _ends(questions: Sequence[Asked], odds: Odds, tree: Tree, share: float, depth: int
          ) -> Iterator[tuple[float, int, int]]:
    """Yield for each way to an end how likely it is, its questions and the systems that remain."""
    if isinstance(tree, End):
        yield share, depth, len(tree.systems)
        return
    then = dict(tree.answers)
    for answer, part, left in answered(questions, odds, questions.index(tree.asked)):
        yield from _ends(questions, left, then[answer], share * part, depth + 1)
