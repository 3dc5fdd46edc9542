"""Contacts in series and side by side, put together where the net between them has no branch."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from generator.pages.drawings.circuit_values import Element

MOST_BESIDE = 3
"""Columns that contacts side by side may take; more would leave no room for a load."""


@dataclass(frozen=True)
class Series:
    """Two blocks, one below the other."""

    first: Block
    then: Block

    @property
    def a(self) -> str:
        """The net at the top."""
        return self.first.a

    @property
    def b(self) -> str:
        """The net at the foot."""
        return self.then.b

    @property
    def width(self) -> int:
        """Columns it takes."""
        return max(self.first.width, self.then.width)

    def turned(self) -> Series:
        """Return the blocks seen from the other end."""
        return Series(self.then.turned(), self.first.turned())


@dataclass(frozen=True)
class Beside:
    """Blocks side by side that join the same two nets."""

    blocks: tuple[Block, ...]

    @property
    def a(self) -> str:
        """The net at the top."""
        return self.blocks[0].a

    @property
    def b(self) -> str:
        """The net at the foot."""
        return self.blocks[0].b

    @property
    def width(self) -> int:
        """Columns they take."""
        return sum(block.width for block in self.blocks)

    def turned(self) -> Beside:
        """Return the blocks seen from the other end."""
        return Beside(tuple(block.turned() for block in self.blocks))


Block = Element | Series | Beside


def from_net(block: Block, net: str) -> Block:
    """Return the block with `net`, one of its two ends, at the top."""
    return block if block.a == net else block.turned()


def parts_of(block: Block) -> tuple[Element, ...]:
    """Return the elements of a block from top to foot, left to right."""
    match block:
        case Series(first, then):
            return (*parts_of(first), *parts_of(then))
        case Beside(blocks):
            return tuple(element for each in blocks for element in parts_of(each))
        case _:
            return (block,)


def joined(contacts: Iterable[Element], kept: Collection[str]) -> tuple[Block, ...]:
    """Return the contacts as blocks between `kept` nets; what leads nowhere is left out."""
    blocks: tuple[Block, ...] = tuple(c for c in contacts if c.a != c.b)
    while True:
        shorter = _in_series(_without_ends(_side_by_side(blocks), kept), kept)
        if shorter == blocks:
            return blocks
        blocks = shorter


def _side_by_side(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    found: list[Block] = []
    for block in blocks:
        ends = {block.a, block.b}
        place = next((i for i, other in enumerate(found) if {other.a, other.b} == ends
                      and other.width + block.width <= MOST_BESIDE), None)
        if place is None:
            found.append(block)
        else:
            found[place] = _beside(found[place], block)
    return tuple(found)


def _beside(one: Block, other: Block) -> Beside:
    same = from_net(other, one.a)
    left = one.blocks if isinstance(one, Beside) else (one,)
    return Beside((*left, *(same.blocks if isinstance(same, Beside) else (same,))))


def _ends(blocks: tuple[Block, ...]) -> Counter[str]:
    return Counter(net for block in blocks for net in (block.a, block.b))


def _without_ends(blocks: tuple[Block, ...], kept: Collection[str]) -> tuple[Block, ...]:
    ends = _ends(blocks)
    return tuple(block for block in blocks
                 if all(net in kept or ends[net] > 1 for net in (block.a, block.b)))


def _in_series(blocks: tuple[Block, ...], kept: Collection[str]) -> tuple[Block, ...]:
    """Put one pair of blocks together at a net where nothing else meets."""
    ends = _ends(blocks)
    for place, upper in enumerate(blocks):
        for net in (upper.b, upper.a):
            if net not in kept and ends[net] == 2:
                lower = next(b for b in blocks if b is not upper and net in (b.a, b.b))
                if {lower.a, lower.b} == {upper.a, upper.b}:
                    continue
                both = _one_after_the_other(upper, lower, net)
                rest = (both if i == place else b for i, b in enumerate(blocks) if b is not lower)
                return tuple(rest)
    return blocks


def _one_after_the_other(one: Block, other: Block, net: str) -> Series:
    """Return both in the way the first was written: where its current comes in stays above."""
    if one.b == net:
        return Series(one, from_net(other, net))
    if other.b == net:
        return Series(other, one)
    return Series(other.turned(), one)
