"""A column of parts beside the spine: which part is above which, and how high each one stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, permutations, product
from statistics import median_low

from generator.pages.drawings.figures import LINE, UNIT, Figure, Row
from generator.pages.drawings.lanes import Run, fewest
from generator.pages.drawings.sheet import Wire

_ROUNDS = 8
_NUDGES = (-2 * LINE, -LINE, -UNIT, UNIT, LINE, 2 * LINE)


@dataclass(frozen=True)
class Seat:
    """A row with the height of its figure on the sheet."""

    row: Row
    above: int
    on_spine: bool

    @property
    def middle(self) -> int:
        return self.above + self.row.top + self.row.height // 2


@dataclass(frozen=True)
class Channel:
    """The figures of one column from top to bottom, where each starts, and the wires beside it."""

    column: tuple[Figure, ...]
    tops: tuple[int, ...]
    spine: Figure | None
    wires: tuple[Wire, ...]

    @cached_property
    def seats(self) -> Mapping[str, Seat]:
        """Where each terminal is; the spine starts at 0."""
        beside = {
            row.pin.terminal: Seat(row, top, False)
            for figure, top in zip(self.column, self.tops, strict=True)
            for row in figure.rows
        }
        return beside | {row.pin.terminal: Seat(row, 0, True) for row in (self.spine.rows if self.spine else ())}

    @cached_property
    def heights(self) -> Mapping[tuple[str, bool], int]:
        """Height of both ends of each wire: True for its start, False for its end."""
        found = {}
        for terminal, ends in self._ends().items():
            row, above = self.seats[terminal].row, self.seats[terminal].above
            ends.sort(key=lambda end: self._outlook(*end))
            for index, (wire, start) in enumerate(ends):
                found[wire.key, start] = above + row.place(index, len(ends))
        return found

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        return tuple(self._run(wire) for wire in self.wires)

    @cached_property
    def cost(self) -> tuple[int, int, int]:
        """Crossings, then how far wires go up or down, then bends."""
        rises = [run.bottom - run.top for run in self.runs]
        return fewest(self.runs), sum(rises), sum(map(bool, rises))

    @property
    def span(self) -> tuple[int, int]:
        """The highest and the lowest point of the column."""
        starts = [*self.tops, 0]
        ends = [top + figure.height for figure, top in zip(self.column, self.tops, strict=True)]
        return min(starts), max([*ends, 0])

    def _ends(self) -> dict[str, list[tuple[Wire, bool]]]:
        ends: dict[str, list[tuple[Wire, bool]]] = {}
        for wire in self.wires:
            ends.setdefault(wire.start, []).append((wire, True))
            ends.setdefault(wire.end, []).append((wire, False))
        return ends

    def _outlook(self, wire: Wire, start: bool) -> tuple[int, int, bool]:
        """Ends stand in the order of where their wires go; doubled wires side by side."""
        here, there = self.seats[wire.start], self.seats[wire.end]
        if not start:
            here, there = there, here
        place = self.wires.index(wire)
        nested = here.on_spine == there.on_spine and here.middle > there.middle
        return there.middle, -place if nested else place, start

    def _run(self, wire: Wire) -> Run:
        column, spine = [], []
        for terminal, start in ((wire.start, True), (wire.end, False)):
            side = spine if self.seats[terminal].on_spine else column
            side.append(self.heights[wire.key, start])
        return Run(wire.key, tuple(column), tuple(spine))


def arranged(column: Sequence[Figure], spine: Figure | None, wires: tuple[Wire, ...]) -> Channel:
    """The channel after parts have changed places and moved while its cost falls."""
    best = settled(column, spine, wires)
    for _ in range(_ROUNDS):
        tried = [settled(order, spine, wires) for order in _exchanges(best.column)]
        better = min([best, *tried], key=lambda channel: channel.cost)
        if better is best:
            break
        best = better
    return _nudged(best)


def settled(column: Sequence[Figure], spine: Figure | None, wires: tuple[Wire, ...]) -> Channel:
    """The figures in this order, each as near as can be to where its wires run level."""
    order = tuple(column)
    stacked = Channel(order, _spread(order, [0] * len(order), spine, LINE), spine, wires)
    wished = [_wish(stacked, index) for index in range(len(order))]
    # at multiples of LINE no end in the column is level with one on the spine: that never clashes
    tried = (_spread(order, wished, spine, step) for step in (UNIT, LINE))
    return min((replace(stacked, tops=tops) for tops in tried), key=lambda channel: channel.cost)


def _exchanges(column: tuple[Figure, ...]) -> list[tuple[Figure, ...]]:
    """The column with each two parts exchanged, and with each part put elsewhere."""
    places = range(len(column))
    found = []
    for a, b in permutations(places, 2):
        rest = column[:a] + column[a + 1 :]
        found.append((*rest[:b], column[a], *rest[b:]))
    for a, b in combinations(places, 2):
        swapped = list(column)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        found.append(tuple(swapped))
    return found


def _nudged(channel: Channel) -> Channel:
    """The channel after each figure has been moved a little up or down while the cost falls."""
    for _ in range(_ROUNDS):
        tried = []
        for index, move in product(range(len(channel.column)), _NUDGES):
            wished = list(channel.tops)
            wished[index] += move
            tops = _spread(channel.column, wished, channel.spine, UNIT)
            tried.append(replace(channel, tops=tops))
        better = min([channel, *tried], key=lambda each: each.cost)
        if better is channel:
            break
        channel = better
    return channel


def _wish(channel: Channel, index: int) -> int:
    """Where the figure would start for the middle one of its wires to run level."""
    figure, top = channel.column[index], channel.tops[index]
    own = {row.pin.terminal for row in figure.rows}
    falls = [
        channel.heights[wire.key, wire.start not in own] - channel.heights[wire.key, wire.start in own]
        for wire in channel.wires
        if (wire.start in own) != (wire.end in own)
    ]
    return top + (median_low(falls) if falls else 0)


def _spread(
    column: Sequence[Figure], wished: Sequence[int], spine: Figure | None, step: int
) -> tuple[int, ...]:
    """Tops at multiples of the step, near those wished, with room between all figures."""
    packed = sum(-(-(figure.height + LINE) // step) * step for figure in column)
    ceiling, tops = 0, []
    for figure, wish in zip(column, wished, strict=True):
        tops.append(-(-max(wish, ceiling) // step) * step)
        ceiling = tops[-1] + figure.height + LINE
    floor = max(packed, spine.height + LINE if spine else 0)
    for index in reversed(range(len(tops))):
        tops[index] = min(tops[index], (floor - LINE - column[index].height) // step * step)
        floor = tops[index]
    return tuple(tops)
