"""The course of each wire on the sheet: corners, hops over other wires, colours at its ends."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from generator.pages.drawings.channels import Channel
from generator.pages.drawings.figures import MARGIN
from generator.pages.drawings.lanes import Run
from generator.pages.drawings.lettering import SMALL
from generator.pages.drawings.plan import Course, Text
from generator.pages.drawings.sheet import Wire


@dataclass(frozen=True)
class Ground:
    """Where a channel lies: the edges of column and spine, distance between lanes, height of 0.

    The column is on the left if it has the lower x.
    """

    column: float
    spine: float
    pitch: float
    y: float

    @property
    def outward(self) -> int:
        """1 if x grows from the column to the spine, else -1."""
        return 1 if self.column < self.spine else -1

    def lane(self, index: int) -> float:
        return self.column + self.outward * self.pitch * (index + 1)


def courses(channel: Channel, ground: Ground) -> tuple[Course, ...]:
    """All wires of a channel; level pieces hop over upright ones."""
    upright = {key: ground.lane(lane) for key, lane in channel.lanes.of.items()}
    runs = {run.key: run for run in channel.runs}
    return tuple(_course(channel, ground, wire, runs, upright) for wire in channel.wires)


def _course(
    channel: Channel,
    ground: Ground,
    wire: Wire,
    runs: Mapping[str, Run],
    upright: Mapping[str, float],
) -> Course:
    ends = [
        (ground.spine if channel.seats[terminal].on_spine else ground.column, height)
        for terminal, height in (
            (wire.start, channel.heights[wire.key, True]),
            (wire.end, channel.heights[wire.key, False]),
        )
    ]
    turns = [(upright[wire.key], height) for _, height in ends if wire.key in upright]
    corners = [ends[0], *turns, ends[1]]
    hops = [
        (lane, height)
        for (x, height), (other_x, other_height) in pairwise(corners)
        if height == other_height
        for key, lane in upright.items()
        if min(x, other_x) < lane < max(x, other_x) and runs[key].top < height < runs[key].bottom
    ]
    texts = _texts(wire, ends, ground)
    return Course(wire, _lowered(corners, ground.y), _lowered(hops, ground.y), texts)


def _lowered(points: list[tuple[float, int]], y: float) -> tuple[tuple[float, float], ...]:
    return tuple((x, height + y) for x, height in points)


def _texts(wire: Wire, ends: list[tuple[float, int]], ground: Ground) -> tuple[Text, ...]:
    """The colour beside each end, inside the part or the spine."""
    if not wire.letters:
        return ()
    texts = []
    for x, height in ends:
        inward = ground.outward if x == ground.spine else -ground.outward
        anchor = "l" if inward > 0 else "r"
        texts.append(Text(x + inward * MARGIN, height + ground.y, wire.letters, anchor, SMALL))
    return tuple(texts)
