"""From a wiring to its plan: columns, heights and lanes put together on one sheet."""

from dataclasses import dataclass, replace
from functools import cached_property

from generator.pages.drawings import figures
from generator.pages.drawings.arranging import arranged
from generator.pages.drawings.channels import Channel
from generator.pages.drawings.columns import stands
from generator.pages.drawings.courses import Ground, courses
from generator.pages.drawings.figures import COLUMN, LINE, Figure, label_room, spine_width
from generator.pages.drawings.parts import part, terminals
from generator.pages.drawings.plan import Plan
from generator.pages.drawings.sheet import Box, Wiring
from generator.pages.drawings.sides import Side, sides

WIDTH = 360
PITCH = 5  # least distance between lanes
EDGE = 2  # white round the drawing


@dataclass(frozen=True)
class Placed:
    """A stand with its figures in place; the spine starts at height 0."""

    spine: Figure | None
    left: Channel
    right: Channel

    @property
    def top(self) -> int:
        return min(self.left.span[0], self.right.span[0])

    @property
    def bottom(self) -> int:
        foot = self.spine.height if self.spine else 0
        return max(foot, self.left.span[1], self.right.span[1])


@dataclass(frozen=True)
class Across:
    """Where columns, lanes and spine stand from left to right."""

    left_lanes: int
    right_lanes: int
    spine_width: float

    @cached_property
    def pitch(self) -> float:
        """Distance between lanes: all that a phone has room for, and never too little to see."""
        room = WIDTH - 2 * EDGE - 2 * COLUMN - self.spine_width
        return max(PITCH, room / (self.left_lanes + self.right_lanes + 2))

    @property
    def spine(self) -> float:
        return EDGE + COLUMN + self.pitch * (self.left_lanes + 1)

    @property
    def right(self) -> float:
        return self.spine + self.spine_width + self.pitch * (self.right_lanes + 1)

    @property
    def width(self) -> float:
        return self.right + COLUMN + EDGE


def plan(wiring: Wiring) -> Plan:
    """The wiring with a place for everything in it."""
    stood = placed(wiring)
    across = Across(
        max((stand.left.lanes.count for stand in stood), default=0),
        max((stand.right.lanes.count for stand in stood), default=0),
        max((stand.spine.width for stand in stood if stand.spine), default=0),
    )
    return _sheet(stood, across)


def placed(wiring: Wiring) -> tuple[Placed, ...]:
    """The stands of the wiring with spines of one width, each for itself."""
    found = [(stand, *sides(stand)) for stand in stands(wiring)]
    spines = [
        (stand.spine, (left.letters, right.letters)) for stand, left, right in found if stand.spine
    ]
    room = max((label_room(box) for box, _ in spines), default=0)
    wide = max((spine_width(box, room, letters) for box, letters in spines), default=0)
    return tuple(_placed(stand.spine, left, right, wide, room) for stand, left, right in found)


def _placed(box: Box | None, left: Side, right: Side, wide: float, room: float) -> Placed:
    counts = left.ends | right.ends  # the greater of both sides
    letters = left.letters, right.letters
    spine = figures.spine(box, counts, wide, room, letters) if box else None
    return Placed(spine, _channel(left, spine), _channel(right, spine))


def _channel(side: Side, spine: Figure | None) -> Channel:
    column = [figures.part(box, side.ends, side.letters) for box in side.boxes]
    return arranged(column, spine, side.wires)


def _sheet(stood: tuple[Placed, ...], across: Across) -> Plan:
    """The stands one below the other."""
    sheet = Plan(across.width, EDGE, (), (), ())
    for stand in stood:
        sheet = _added(sheet, stand, across, LINE if sheet.parts else 0)
    return replace(sheet, height=sheet.height + EDGE)


def _added(sheet: Plan, stand: Placed, across: Across, gap: int) -> Plan:
    zero = sheet.height + gap - stand.top
    where = [(stand.spine, across.spine, zero, "c")] if stand.spine else []
    for channel, x, anchor in ((stand.left, EDGE, "l"), (stand.right, across.right, "r")):
        pairs = zip(channel.column, channel.tops, strict=True)
        where += [(figure, x, zero + top, anchor) for figure, top in pairs]
    left = Ground(EDGE + COLUMN, across.spine, across.pitch, zero)
    right = Ground(across.right, across.spine + across.spine_width, across.pitch, zero)
    return Plan(
        sheet.width,
        zero + stand.bottom,
        sheet.parts + tuple(part(figure, x, y) for figure, x, y, _ in where),
        sheet.terminals + tuple(end for place in where for end in terminals(*place)),
        sheet.courses + courses(stand.left, left) + courses(stand.right, right),
    )
