"""A column of parts beside the spine with the wires between them, and what its layout costs."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from generator.pages.drawings.figures import Figure, Row
from generator.pages.drawings.lanes import Bundle, Lanes, Run, bundled, laned, run
from generator.pages.drawings.sheet import Wire


class Seat(NamedTuple):
    """A row with the height of its figure, and of its own middle, on the sheet."""

    row: Row
    above: int
    middle: int
    on_spine: bool


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
        placed = [(figure, top, False) for figure, top in zip(self.column, self.tops, strict=True)]
        if self.spine:
            placed.append((self.spine, 0, True))
        return {
            row.pin.terminal: Seat(row, top, top + row.middle_height, on_spine)
            for figure, top, on_spine in placed
            for row in figure.rows
        }

    @cached_property
    def heights(self) -> Mapping[tuple[str, bool], int]:
        """Height of both ends of each wire: True for its start, False for its end."""
        found = {}
        for terminal, ends in self._ends().items():
            row, above = self.seats[terminal].row, self.seats[terminal].above
            if len(ends) > 1:
                ends.sort(key=lambda end: self._outlook(*end))
            for index, (wire, start) in enumerate(ends):
                found[wire.key, start] = above + row.place(index, len(ends))
        return found

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        return tuple(self._run(wire) for wire in self.wires)

    @cached_property
    def lanes(self) -> Lanes:
        return laned(self._bundle)

    @cached_property
    def cost(self) -> tuple[int, int, int]:
        """Crossings, then lanes, then how far wires go up or down."""
        rises = sum(each.bottom - each.top for each in self.runs)
        return self.lanes.crossings, self.lanes.count, rises

    @property
    def least(self) -> int:
        """Crossings at the least: known before lanes are looked for, which takes far longer."""
        return self._bundle.least + self._bundle.through

    @cached_property
    def _bundle(self) -> Bundle:
        return bundled(self.runs)

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

    @cached_property
    def _place(self) -> Mapping[str, int]:
        return {wire.key: place for place, wire in enumerate(self.wires)}

    def _outlook(self, wire: Wire, start: bool) -> tuple[int, int, int, bool]:
        """Ends stand in the order of where their wires go.

        Wires that come back to the same side turn inside all others, the shortest innermost.
        """
        here, there = self.seats[wire.start], self.seats[wire.end]
        if not start:
            here, there = there, here
        place = self._place[wire.key]
        if here.on_spine != there.on_spine:
            return 0, there.middle, place, start
        down = 1 if (here.middle, start) < (there.middle, not start) else -1
        return down, -there.middle, -place * down, start

    def _run(self, wire: Wire) -> Run:
        column: list[int] = []
        spine: list[int] = []
        for terminal, start in ((wire.start, True), (wire.end, False)):
            side = spine if self.seats[terminal].on_spine else column
            side.append(self.heights[wire.key, start])
        return run(wire.key, column, spine)
