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
    """Where columns, lanes and spine stand from left to right; a column without parts is 0 wide."""

    left_column: int
    left_lanes: int
    spine_width: float
    right_lanes: int
    right_column: int

    @cached_property
    def pitch(self) -> float:
        """Distance between lanes: all that a phone has room for, and never too little to see."""
        taken = 2 * EDGE + self.left_column + self.spine_width + self.right_column
        return max(PITCH, (WIDTH - taken) / (self.left_lanes + self.right_lanes + 2))

    @property
    def left(self) -> float:
        """The edge of the left column towards the spine."""
        return EDGE + self.left_column

    @property
    def spine(self) -> float:
        return self.left + self.pitch * (self.left_lanes + 1)

    @property
    def spine_end(self) -> float:
        return self.spine + self.spine_width

    @property
    def right(self) -> float:
        """The edge of the right column towards the spine."""
        return self.spine_end + self.pitch * (self.right_lanes + 1)

    @property
    def width(self) -> float:
        return self.right + self.right_column + EDGE


def plan(wiring: Wiring) -> Plan:
    """The wiring with a place for everything in it."""
    stood = placed(wiring)
    across = Across(
        COLUMN * any(stand.left.column for stand in stood),
        max((stand.left.lanes.count for stand in stood), default=0),
        max((stand.spine.width for stand in stood if stand.spine), default=0),
        max((stand.right.lanes.count for stand in stood), default=0),
        COLUMN * any(stand.right.column for stand in stood),
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
    left = Ground(across.left, across.spine, across.pitch, zero)
    right = Ground(across.right, across.spine_end, across.pitch, zero)
    return Plan(
        sheet.width,
        zero + stand.bottom,
        sheet.parts + tuple(part(figure, x, y) for figure, x, y, _ in where),
        sheet.terminals + tuple(end for place in where for end in terminals(*place)),
        sheet.courses + courses(stand.left, left) + courses(stand.right, right),
    )
