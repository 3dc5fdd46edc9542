"""Places of everything that hangs below a net, and which columns go on to the foot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_blocks import Block, Series
from generator.pages.drawings.circuit_changes import (
    ChangeOver,
    change_height,
    change_shapes,
    paired,
)
from generator.pages.drawings.circuit_grid import LINE
from generator.pages.drawings.circuit_limbs import Edge, Foot, Fork, Limb, Point
from generator.pages.drawings.circuit_plan import Arrow, Line, Shape
from generator.pages.drawings.circuit_stacks import (
    BRANCH,
    Ground,
    block_height,
    block_shapes,
    branch,
)
from generator.pages.drawings.circuit_symbols import ring
from generator.pages.drawings.circuit_values import Element, Look


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
        yield from branch(ground.grid, fork.net, places, y)
        y += BRANCH
    for limb, place in zip(limbs, places, strict=True):
        yield from _limb(ground, fork.net, limb, place, y)


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
