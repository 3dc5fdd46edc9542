"""The two sides of a spine: which wires run in the channel on the left, which on the right."""

from collections import Counter
from dataclasses import dataclass

from generator.pages.drawings.columns import Stand, home
from generator.pages.drawings.lettering import SMALL, width
from generator.pages.drawings.sheet import Box, Wire


@dataclass(frozen=True)
class Side:
    """A column of parts and the wires in the channel between it and the spine."""

    boxes: tuple[Box, ...]
    wires: tuple[Wire, ...]

    @property
    def ends(self) -> Counter[str]:
        """How many wires of this channel end at each terminal."""
        return Counter(end for wire in self.wires for end in (wire.start, wire.end))

    @property
    def letters(self) -> dict[str, float]:
        """Width of the widest colour written at each terminal."""
        widths: dict[str, float] = {}
        for wire in self.wires:
            for end in (wire.start, wire.end):
                widths[end] = max(widths.get(end, 0), width(wire.letters, SMALL))
        return widths


def sides(stand: Stand) -> tuple[Side, Side]:
    """Left and right; a link from spine to spine runs where its terminals have fewer wires."""
    left, right = _side(stand.left, stand.wires), _side(stand.right, stand.wires)
    for link in stand.wires:
        if link not in left.wires and link not in right.wires:
            if _busy(link, left) <= _busy(link, right):
                left = Side(left.boxes, (*left.wires, link))
            else:
                right = Side(right.boxes, (*right.wires, link))
    return left, right


def _side(boxes: tuple[Box, ...], wires: tuple[Wire, ...]) -> Side:
    own = set(home(boxes))
    return Side(boxes, tuple(wire for wire in wires if own & {wire.start, wire.end}))


def _busy(link: Wire, side: Side) -> tuple[int, int]:
    return side.ends[link.start] + side.ends[link.end], len(side.wires)
