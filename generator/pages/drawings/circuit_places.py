"""Places of everything that hangs below a net, and which columns go on to the foot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_blocks import Beside, Block, Series
from generator.pages.drawings.circuit_changes import (
    ChangeOver,
    change_height,
    change_shapes,
    paired,
)
from generator.pages.drawings.circuit_grid import LINE, Grid
from generator.pages.drawings.circuit_plan import Arrow, Dot, Line, Shape
from generator.pages.drawings.circuit_symbols import element_shapes, ring, written
from generator.pages.drawings.circuit_trees import Edge, Foot, Fork, Limb, Point
from generator.pages.drawings.circuit_values import CircuitSheet, Element, Look

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


@dataclass(frozen=True)
class Outcome:
    """A column that goes on below everything: to a lower net, or to the edge of a part."""

    column: int
    net: str
    y: float
    terminal: str = ""


def fork_height(ground: Ground, fork: Fork, named: bool = False) -> float:
    """Return the height of a net and all below it; `named` where its name stands above."""
    limbs = [_height(ground, limb) for limb in paired(fork)]
    branch = BRANCH if len(limbs) > 1 else 0
    label = 0 if named else LINE * len(ground.label(fork.net))
    return label + branch + max(limbs, default=0)


def _height(ground: Ground, limb: Limb | ChangeOver) -> float:
    if isinstance(limb, ChangeOver):
        below = (_height(ground, _rest(each)) for each in (limb.rest, limb.worked))
        return change_height(limb, ground.grid) + max(below)
    block = block_height(ground, limb.block) if limb.block else 0
    match limb.end:
        case Fork():
            return block + fork_height(ground, limb.end)
        case Point(net):
            return block + LINE * max(1, len(_point(ground, net))) + 4
        case _:
            return block


def _rest(limb: Limb) -> Limb:
    """Return a limb without the contact it begins with."""
    def below(block: Block | None) -> Block | None:
        if not isinstance(block, Series):
            return None
        first = below(block.first)
        return replace(block, first=first) if first else block.then

    return replace(limb, block=below(limb.block))


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


def fork_shapes(
    ground: Ground, fork: Fork, column: int, y: float, named: bool = False,
    first: bool = False,
) -> Iterator[Shape | Outcome]:
    """Yield a net and all below it, and the columns that go on; nothing is above a first net."""
    lines = () if named else ground.label(fork.net)
    if lines:
        name = ground.sheet.nets[fork.net].name
        yield from ring(fork.net, name, ground.grid, column, y, lines, last=not fork.limbs,
                        first=first)
        y += LINE * len(lines)
    limbs = paired(fork)
    places = [column + sum(each.width for each in limbs[:i]) for i in range(len(limbs))]
    if len(limbs) > 1:
        yield from _branch(ground.grid, fork.net, places, y)
        y += BRANCH
    for limb, place in zip(limbs, places, strict=True):
        yield from _limb(ground, fork.net, limb, place, y)


def _branch(grid: Grid, net: str, columns: list[int], y: float) -> Iterator[Shape]:
    """Yield a level line from the first column to the others, with a way down from each."""
    level = y + BRANCH / 2
    first, *others = [grid.axis(column) for column in columns]
    yield Line(net, ((first, y), (first, y + BRANCH)))
    yield Line(net, ((first, level), (others[-1], level)))
    yield from (Dot(net, x, level) for x in (first, *others[:-1]))
    for x in others:
        yield Line(net, ((x, level), (x, y + BRANCH)))


def _limb(
    ground: Ground, net: str, limb: Limb | ChangeOver, column: int, y: float
) -> Iterator[Shape | Outcome]:
    if isinstance(limb, ChangeOver):
        yield from change_shapes(limb, ground.grid, column, y)
        foot = y + change_height(limb, ground.grid)
        for each, place in ((limb.rest, column), (limb.worked, column + limb.rest.width)):
            yield from _below(ground, _rest(each), place, foot)
        return
    yield from _below(ground, limb, column, y)


def _below(ground: Ground, limb: Limb, column: int, y: float) -> Iterator[Shape | Outcome]:
    if limb.block:
        height = block_height(ground, limb.block)
        lowered = _lowered(ground, limb, y, height)
        if lowered > y:
            x = ground.grid.axis(column)
            yield Line(limb.block.a, ((x, y), (x, lowered)))
        yield from block_shapes(ground, limb.block, column, lowered)
        y = lowered + height
    match limb.end:
        case Fork():
            yield from fork_shapes(ground, limb.end, column, y)
        case Point(net):
            yield _arrow(ground, net, column, y)
        case Foot(net):
            yield Outcome(column, net, y)
        case Edge(net, terminal):
            yield Outcome(column, net, y, terminal)


def _lowered(ground: Ground, limb: Limb, y: float, height: float) -> float:
    """Return where a block begins: loads hang just above the foot, beside one another."""
    last = isinstance(limb.block, Element) and limb.block.look is Look.LOAD
    return max(y, ground.foot - height) if last and isinstance(limb.end, Foot) else y


def _point(ground: Ground, net: str) -> tuple[str, ...]:
    return ground.grid.lines(ground.sheet.nets[net].name)


def _arrow(ground: Ground, net: str, column: int, y: float) -> Arrow:
    middle = y + LINE / 2
    texts = ground.grid.beside(column, middle, _point(ground, net))
    return Arrow(net, ground.grid.axis(column), y, texts)


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
    yield from _branch(grid, block.a, places, y)
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
