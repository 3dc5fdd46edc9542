"""How many measurements a search takes: expected, at worst, and the least there could be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import log2

from generator.sitework.finder.choice import End, Tree


@dataclass(frozen=True)
class Figures:
    """Measurements to the end, each class of faults as likely as another.

    `bound` is log2 of the number of classes: the least that can be expected of questions with two
    answers. Some have three or more, so that a search may stay below it.
    """

    classes: int
    expected: float
    worst: int
    bound: float


def figures(tree: Tree) -> Figures:
    """Return the figures of a tree where everything that is asked can be measured."""
    depths = list(_depths(tree, 0))
    return Figures(len(depths), sum(depths) / len(depths), max(depths), log2(len(depths)))


def _depths(tree: Tree, depth: int) -> Iterator[int]:
    if isinstance(tree, End):
        yield from (depth for _ in tree.classes)
    else:
        for _, then in tree.answers:
            yield from _depths(then, depth + 1)
