"""What hangs below a net, as a tree: blocks, and what stands at the foot of each column."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.drawings.circuit_blocks import Block, parts_of
from generator.pages.drawings.circuit_values import Element


@dataclass(frozen=True)
class Point:
    """The end of a column at a net that stands elsewhere: its name is written at both places."""

    net: str


@dataclass(frozen=True)
class Foot:
    """The end of a column at a lower net of its source."""

    net: str


@dataclass(frozen=True)
class Edge:
    """The end of a column at a terminal on the edge of a part."""

    net: str
    terminal: str


@dataclass(frozen=True)
class Fork:
    """A net and what hangs below it."""

    net: str
    limbs: tuple[Limb, ...]

    @property
    def width(self) -> int:
        """Columns it takes."""
        return max(1, sum(limb.width for limb in self.limbs))


@dataclass(frozen=True)
class Limb:
    """A block, or a plain line, and what stands at its foot."""

    block: Block | None
    end: Fork | Point | Foot | Edge

    @property
    def width(self) -> int:
        """Columns it takes."""
        below = self.end.width if isinstance(self.end, Fork) else 1
        return max(self.block.width if self.block else 1, below)


def elements_of(fork: Fork) -> Iterator[Element]:
    """Yield every element that hangs below a net."""
    for limb in fork.limbs:
        if limb.block:
            yield from parts_of(limb.block)
        if isinstance(limb.end, Fork):
            yield from elements_of(limb.end)


def points_of(fork: Fork) -> Iterator[str]:
    """Yield the nets that columns below a net end at by name."""
    for limb in fork.limbs:
        if isinstance(limb.end, Point):
            yield limb.end.net
        if isinstance(limb.end, Fork):
            yield from points_of(limb.end)
