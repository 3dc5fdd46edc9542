"""Which suspects look alike, and how much a question tells of the rest."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import log2

from generator.circuit.tables import states
from generator.sitework.finder.measurement import Measurement


def classes(suspects: int, asked: Sequence[Measurement]) -> tuple[tuple[int, ...], ...]:
    """Return suspects in classes: those in one class no question tells apart.

    A question that cannot be asked, or says less, while others are in question may tell more once
    they are not: so it is gone through until nothing changes.
    """
    groups, alone, before = [suspects], list[int](), 0
    while len(groups) + len(alone) != before:
        before = len(groups) + len(alone)
        for m in asked:
            parts = [mask for group in groups for mask in _parts(m, group)]
            groups = [mask for mask in parts if mask & (mask - 1)]
            alone += [mask for mask in parts if not mask & (mask - 1)]
    return tuple(sorted(tuple(states(group)) for group in (*groups, *alone)))


def _parts(m: Measurement, group: int) -> tuple[int, ...]:
    return (group,) if m.unsafe & group else m.told(group)


def telling_apart(asked: Sequence[Measurement], suspects: int) -> tuple[Measurement, ...]:
    """Return the questions that tell these suspects apart, twice at most where they tell the same.

    The second is for whoever could not answer the first.
    """
    kept: dict[tuple[object, ...], list[Measurement]] = {}
    for m in asked:
        given = m.given(suspects)
        if len(given) > 1:
            key = m.need, frozenset(given), m.unsafe & suspects, m.doubtful & suspects
            alike = kept.setdefault(key, [])
            if len(alike) < 2:
                alike.append(m)
    return tuple(m for alike in kept.values() for m in alike)


def gain(measurement: Measurement, suspects: int, firsts: int) -> float:
    """Return how many bits an answer tells of which class it is, each as likely as another.

    `firsts` is one suspect of each class.
    """
    sizes = [(mask & firsts).bit_count() for mask in measurement.told(suspects)]
    if len(sizes) < 2:
        return 0.0
    total = sum(sizes)
    return log2(total) - sum(map(_weight, sizes)) / total


@cache
def _weight(size: int) -> float:
    return size * log2(size)
