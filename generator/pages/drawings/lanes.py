"""Channel routing: a lane for each wire between a column and the spine, with few crossings.

Left-edge method with vertical order where two wires share a height (Hashimoto and Stevens 1971);
the order of the lanes then changes while crossings fall.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

CLASH = 1_000_000  # counts as more crossings than a channel can have
_ROUNDS = 12


@dataclass(frozen=True)
class Run:
    """A wire in a channel: the heights at which it leaves for the column and for the spine."""

    key: str
    column: tuple[int, ...]
    spine: tuple[int, ...]

    @property
    def top(self) -> int:
        return min(self.column + self.spine)

    @property
    def bottom(self) -> int:
        return max(self.column + self.spine)

    @property
    def level(self) -> bool:
        """A level wire needs no lane."""
        return self.top == self.bottom


def crossings(order: Sequence[Run]) -> int:
    """Crossings of the wires with lanes in this order from column to spine; a clash counts CLASH."""
    lanes = _upright(order)
    between = sum(_cost(a, b) for place, a in enumerate(lanes) for b in lanes[place + 1 :])
    return between + _through(order)


def fewest(runs: Sequence[Run]) -> int:
    """Crossings that no order of lanes can avoid; quick, and nearly always what `ordered` gets."""
    lanes = _upright(runs)
    pairs = ((a, b) for place, a in enumerate(lanes) for b in lanes[place + 1 :])
    return sum(min(_cost(a, b), _cost(b, a)) for a, b in pairs) + _through(runs)


def ordered(runs: Sequence[Run]) -> tuple[Run, ...]:
    """The wires from column to spine; wires are moved while crossings fall."""
    order = _first_order(_upright(runs))
    for _ in range(_ROUNDS):
        better = _moved(order)
        if better == order:
            break
        order = better
    return tuple(order) + tuple(run for run in runs if run.level)


def lanes(order: Sequence[Run]) -> dict[str, int]:
    """Lane of each wire, counted from the column; wires beside each other in height share one.

    Links from spine to spine keep to the lanes nearest the spine.
    """
    upright = _upright(order)
    early: dict[str, int] = {}
    for place, run in enumerate(upright):
        before = [early[other.key] for other in upright[:place] if _abreast(other, run)]
        early[run.key] = max(before, default=-1) + 1
    count = max(early.values(), default=-1) + 1
    final: dict[str, int] = {}
    for place, run in reversed(list(enumerate(upright))):
        after = [final[other.key] for other in upright[place + 1 :] if _abreast(other, run)]
        final[run.key] = early[run.key] if run.column else min(after, default=count) - 1
    return final


def _upright(runs: Sequence[Run]) -> list[Run]:
    return [run for run in runs if not run.level]


def _abreast(a: Run, b: Run) -> bool:
    return a.top <= b.bottom and b.top <= a.bottom


@lru_cache(maxsize=1 << 16)
def _cost(near: Run, far: Run) -> int:
    """Crossings of two wires if the first has its lane nearer the column."""
    return sum(_met(height, far) for height in near.spine) + sum(
        _met(height, near) for height in far.column
    )


def _met(height: int, run: Run) -> int:
    """A level piece meets the upright piece of a run: crosses it, or would run along its bend."""
    if height in (run.top, run.bottom):
        return CLASH
    return int(run.top < height < run.bottom)


def _through(runs: Sequence[Run]) -> int:
    """Crossings of level wires, the same in every order."""
    upright = _upright(runs)
    return sum(_met(level.top, run) for level in runs if level.level for run in upright)


def _first_order(runs: list[Run]) -> list[Run]:
    """Wires that must stand nearer the column first, among them the one that costs least there.

    Where the musts go round in a circle the clash stays and shows in `crossings`.
    """
    rest, order = list(runs), []
    while rest:
        first = min(rest, key=lambda run: (_bill(run, rest), run.key))
        rest.remove(first)
        order.append(first)
    return order


def _bill(run: Run, rest: list[Run]) -> tuple[int, int]:
    """What it costs to put the run nearest the column: clashes, then crossings gained or lost."""
    there = [(_cost(run, other), _cost(other, run)) for other in rest if other is not run]
    clashes = sum(cost >= CLASH for cost, _ in there)
    return clashes, sum(min(cost, CLASH) % CLASH - back % CLASH for cost, back in there)


def _moved(order: list[Run]) -> list[Run]:
    """The order after each wire has been put where it costs least."""
    for run in list(order):
        others = [other for other in order if other is not run]
        # cost of standing before others[0], then the change with each place farther on
        costs = [sum(_cost(run, other) for other in others)]
        for other in others:
            costs.append(costs[-1] - _cost(run, other) + _cost(other, run))
        place = order.index(run)
        best = min(range(len(costs)), key=lambda index: (costs[index], abs(index - place)))
        order = [*others[:best], run, *others[best:]]
    return order
