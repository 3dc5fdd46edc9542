"""A part as a figure: its title and, under it, one row for each terminal; all in points."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from generator.pages.drawings.lettering import longest, width, wrap
from generator.pages.drawings.sheet import Box, Pin

UNIT = 8  # every height is a multiple of it, so heights that differ are this far apart
LINE = 2 * UNIT  # from one line of text, or one end of a wire, to the next
COLUMN = 86  # width of a part in a column
MARGIN = 4  # from the edge of a figure to its text
GAP = 3  # between texts on one line
_NARROW = 64  # a spine has room for its title
_LABEL = 64  # a label on the spine breaks where it is wider

Counts = Mapping[str, int]  # ends at each terminal, on the side where it has most
Widths = Mapping[str, float]  # width of the widest colour written at each terminal


@dataclass(frozen=True)
class Row:
    """One terminal: its label in lines, and places for ends of wires one below the other."""

    pin: Pin
    label: tuple[str, ...]
    top: int
    places: int
    inset: int
    middle: float = 0  # of the label on a spine, from the left edge

    @property
    def height(self) -> int:
        return LINE * (self.places - 1) + 2 * self.inset

    @property
    def middle_height(self) -> int:
        return self.top + self.height // 2

    def place(self, index: int, count: int) -> int:
        """Height of one of the ends on a side, measured from the top of the figure."""
        return self.top + self.inset + LINE * (index + (self.places - count) // 2)


@dataclass(frozen=True)
class Figure:
    """A part with the lines of its title, of which the first stands beside the designation."""

    box: Box
    title: tuple[str, ...]
    rows: tuple[Row, ...]
    width: float
    height: int

    def reordered(self, rows: Sequence[Row]) -> "Figure":
        """The same figure with its terminals in another order."""
        tops = accumulate((row.height for row in rows), initial=min(row.top for row in rows))
        moved = (replace(row, top=top) for row, top in zip(rows, tops, strict=False))
        return replace(self, rows=tuple(moved))


def part(box: Box, counts: Counts, letters: Widths) -> Figure:
    """A part in a column: colours stand at its inner edge, labels beside them."""

    def label(pin: Pin) -> tuple[str, ...]:
        written = letters.get(pin.terminal, 0)
        return wrap(pin.label, COLUMN - 2 * MARGIN - (written + GAP if written else 0))

    return _figure(box, counts, label, COLUMN, UNIT, UNIT)


def spine(
    box: Box, counts: Counts, wide: float, room: float, letters: tuple[Widths, Widths]
) -> Figure:
    """A part as spine, of this width: labels have this room and colours stand beside them."""
    figure = _figure(box, counts, lambda pin: wrap(pin.label, room, strong=True), wide, LINE, 0)
    rows = (replace(row, middle=_middle(row, wide, letters)) for row in figure.rows)
    return replace(figure, rows=tuple(rows))


def spine_width(box: Box, room: float, letters: tuple[Widths, Widths]) -> float:
    """Width for the widest row: its label, and on each side the widest colour at the terminal."""
    rows = (
        min(room, width(pin.label, strong=True)) + sum(_beside(pin, side) for side in letters)
        for pin in box.pins
    )
    return max(_NARROW, *rows) if box.pins else _NARROW


def _beside(pin: Pin, letters: Widths) -> float:
    """What the colours at a terminal leave free of its edge."""
    return MARGIN + letters.get(pin.terminal, 0) + GAP


def _middle(row: Row, wide: float, letters: tuple[Widths, Widths]) -> float:
    """Where the label is centred: in the middle of the cell if the colours leave room there."""
    half = max(width(line, strong=True) for line in row.label) / 2
    left, right = (_beside(row.pin, side) + half for side in letters)
    return min(max(wide / 2, left), wide - right)


def label_room(box: Box) -> float:
    """Room that the labels of a spine need if they break where they can."""
    return min(_LABEL, max((longest(pin.label, strong=True) for pin in box.pins), default=0))


def _figure(
    box: Box,
    counts: Counts,
    label: Callable[[Pin], tuple[str, ...]],
    wide: float,
    inset: int,
    foot: int,
) -> Figure:
    title = wrap(box.title, wide - 2 * MARGIN, title_indent(box))
    labels = [label(pin) for pin in box.pins]
    places = [
        max(len(lines), counts.get(pin.terminal, 0))
        for pin, lines in zip(box.pins, labels, strict=True)
    ]
    heights = [LINE * (count - 1) + 2 * inset for count in places]
    tops = list(accumulate(heights, initial=LINE * len(title) + UNIT))
    rows = tuple(
        Row(pin, lines, top, count, inset)
        for pin, lines, top, count in zip(box.pins, labels, tops, places, strict=False)
    )
    return Figure(box, title, rows, wide, tops[-1] + foot)


def title_indent(box: Box) -> float:
    """Where the title starts on its first line, beside the designation."""
    return width(f"-{box.designation}", strong=True) + 5
