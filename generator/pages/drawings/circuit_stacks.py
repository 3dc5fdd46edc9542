"""Places of contacts in series and side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.pages.drawings.circuit_blocks import Beside, Block, Series
from generator.pages.drawings.circuit_grid import LINE, Grid
from generator.pages.drawings.circuit_plan import Dot, Line, Shape
from generator.pages.drawings.circuit_symbols import element_shapes, ring, written
from generator.pages.drawings.circuit_values import CircuitSheet

BRANCH = 9
"""Height that a level line takes."""


@dataclass(frozen=True)
class Ground:
    """What places depend on: words of nets, columns, and how far down loads hang."""

    sheet: CircuitSheet
    named: frozenset[str]
    grid: Grid
    foot: float = 0

    def label(self, net: str) -> tuple[str, ...]:
        """Return what is written on a net between its elements, in lines."""
        found = self.sheet.nets[net]
        return self.grid.lines(found.written or (found.name if net in self.named else ""))


def block_height(ground: Ground, block: Block) -> float:
    """Return the height of contacts in series and side by side."""
    match block:
        case Series(first, then):
            label = LINE * len(ground.label(first.b))
            return block_height(ground, first) + label + block_height(ground, then)
        case Beside(blocks):
            return 2 * BRANCH + max(block_height(ground, each) for each in blocks)
        case _:
            return written(block, ground.grid).height


def block_shapes(ground: Ground, block: Block, column: int, y: float) -> Iterator[Shape]:
    """Yield contacts in series and side by side, the upper end of their line at y."""
    match block:
        case Series(first, then):
            yield from block_shapes(ground, first, column, y)
            y += block_height(ground, first)
            lines = ground.label(first.b)
            if lines:
                name = ground.sheet.nets[first.b].name
                yield from ring(first.b, name, ground.grid, column, y, lines)
            yield from block_shapes(ground, then, column, y + LINE * len(lines))
        case Beside():
            yield from _beside(ground, block, column, y)
        case _:
            yield from element_shapes(block, ground.grid, column, y)


def _beside(ground: Ground, block: Beside, column: int, y: float) -> Iterator[Shape]:
    blocks, grid = block.blocks, ground.grid
    places = [column + sum(each.width for each in blocks[:i]) for i in range(len(blocks))]
    yield from branch(grid, block.a, places, y)
    foot = y + block_height(ground, block) - BRANCH
    for each, place in zip(blocks, places, strict=True):
        yield from block_shapes(ground, each, place, y + BRANCH)
        ended, x = y + BRANCH + block_height(ground, each), grid.axis(place)
        level = foot + BRANCH / 2
        yield Line(block.b, ((x, ended), (x, foot + BRANCH if place == column else level)))
        if place not in (places[-1],):
            yield Dot(block.b, x, level)
    first, last = grid.axis(places[0]), grid.axis(places[-1])
    yield Line(block.b, ((first, foot + BRANCH / 2), (last, foot + BRANCH / 2)))


def branch(grid: Grid, net: str, columns: Sequence[int], y: float) -> Iterator[Shape]:
    """Yield a level line from the first column to the others, with a way down from each."""
    level = y + BRANCH / 2
    first, *others = [grid.axis(column) for column in columns]
    yield Line(net, ((first, y), (first, y + BRANCH)))
    yield Line(net, ((first, level), (others[-1], level)))
    yield from (Dot(net, x, level) for x in (first, *others[:-1]))
    for x in others:
        yield Line(net, ((x, level), (x, y + BRANCH)))
