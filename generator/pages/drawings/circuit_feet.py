"""What stands below the columns of a bank: neutral, the way back into a box, a part's edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.pages.drawings.circuit_banks import Bank
from generator.pages.drawings.circuit_grid import LINE, RING, Grid
from generator.pages.drawings.circuit_heads import BOXED, back_height, box_shape
from generator.pages.drawings.circuit_places import Outcome
from generator.pages.drawings.circuit_plan import Arrow, Dot, Line, Ring, Shape, Symbol
from generator.pages.drawings.circuit_stacks import Ground, block_height, block_shapes
from generator.pages.drawings.circuit_symbols import LEFT, ring
from generator.pages.drawings.circuit_values import Feed
from generator.pages.drawings.lettering import BODY
from generator.pages.drawings.plan import Area, Text

LEVEL = 12
"""From one level line at the foot to the next."""


@dataclass(frozen=True)
class Bar:
    """A level line that gathers the columns of one net; it goes on down from the first."""

    net: str
    columns: tuple[int, ...]
    level: float


def bars(outcomes: Sequence[Outcome], y: float) -> tuple[Bar, ...]:
    """Return the level lines, each lower net's at a height of its own."""
    nets = dict.fromkeys(each.net for each in outcomes if not each.terminal)
    return tuple(
        Bar(net, tuple(sorted(e.column for e in outcomes if e.net == net and not e.terminal)),
            y + LEVEL * (place + 0.5))
        for place, net in enumerate(nets))


def foot_height(ground: Ground, bank: Bank, outcomes: Sequence[Outcome], trunk: bool) -> float:
    """Return the height from the end of the trees to the end of the bank."""
    gathered = LEVEL * len(bars(outcomes, 0))
    match bank.tree.source.feed:
        case Feed.SUPPLY if trunk:
            poles = sum(block_height(ground, e) + LINE * len(ground.label(e.b))
                        for e in bank.tree.trunk.below)
            label = LINE * len(ground.label(bank.tree.source.lower[0]))
            return gathered + label + poles + LINE + 4
        case Feed.SUPPLY:
            names = (ground.grid.lines(ground.sheet.nets[o.net].name) for o in outcomes)
            return gathered + LINE * max(map(len, names), default=0)
        case Feed.PART:
            return gathered + _edge_height(ground, outcomes) + 4
        case _:
            return _rings_height(ground, outcomes) + back_height(ground, bank)


def foot_shapes(
    ground: Ground, bank: Bank, outcomes: Sequence[Outcome], y: float, trunk: bool
) -> Iterator[Shape]:
    """Yield all below the trees, which end at y."""
    if bank.tree.source.feed in BOXED:
        yield from _boxed(ground, bank, outcomes, y)
        return
    end = y + foot_height(ground, bank, outcomes, trunk)
    found = bars(outcomes, y)
    below = y + LEVEL * len(found)
    downs = tuple(_downs(ground.grid, outcomes, found, below, end))
    yield from downs
    for bar in found:
        yield from _gathered(ground.grid, bar, downs)
        column = bar.columns[0]
        names = ", ".join(ground.sheet.nets[bar.net].edge)
        if bank.tree.source.feed is Feed.PART and names:
            x = ground.grid.axis(column)
            yield Line(bar.net, ((x, below), (x, end - RING)))
            yield from _edge(ground, names, column, end)
        elif bank.tree.source.feed is Feed.PART:
            continue
        elif trunk:
            yield from _poles(ground, bank, column, below)
        else:
            lines = ground.grid.lines(ground.sheet.nets[bar.net].name)
            texts = ground.grid.beside(column, below + LINE / 2, lines)
            yield Arrow(bar.net, ground.grid.axis(column), below, texts)
    for each in outcomes:
        if each.terminal:
            yield from _edge(ground, each.terminal, each.column, end)


def _downs(
    grid: Grid, outcomes: Sequence[Outcome], found: Sequence[Bar], below: float, end: float
) -> Iterator[Line]:
    """Yield the ways down of all columns, to their bar, past it, or to the edge."""
    for each in outcomes:
        x = grid.axis(each.column)
        bar = next((b for b in found if b.net == each.net and not each.terminal), None)
        if bar is None:
            yield Line(each.net, ((x, each.y), (x, end - RING)))
        else:
            foot = below if each.column == bar.columns[0] else bar.level
            yield Line(each.net, ((x, each.y), (x, foot)))


def _gathered(grid: Grid, bar: Bar, downs: Sequence[Line]) -> Iterator[Shape]:
    xs = [grid.axis(column) for column in bar.columns]
    if len(xs) > 1:
        crossed = tuple(
            (line.corners[0][0], bar.level) for line in downs
            if line.net != bar.net and xs[0] < line.corners[0][0] < xs[-1]
            and line.corners[0][1] < bar.level < line.corners[-1][1])
        yield Line(bar.net, ((xs[0], bar.level), (xs[-1], bar.level)), crossed)
        yield from (Dot(bar.net, x, bar.level) for x in xs[:-1])


def _poles(ground: Ground, bank: Bank, column: int, y: float) -> Iterator[Shape]:
    source, grid = bank.tree.source, ground.grid
    net = source.lower[0]
    label = ground.label(net)
    if label:
        yield from ring(net, ground.sheet.nets[net].name, grid, column, y, label)
    y += LINE * len(label)
    for pole in bank.tree.trunk.below:
        yield from block_shapes(ground, pole, column, y)
        y += block_height(ground, pole)
        after = ground.label(pole.b)
        if after:
            yield from ring(pole.b, ground.sheet.nets[pole.b].name, grid, column, y, after)
        y += LINE * len(after)
    x = grid.axis(column) - LEFT
    text = Text(x, y + 4 + LINE / 2, "Neutral", "l", BODY, strong=True)
    yield Symbol(f"supply-{source.key}-neutral", "supply",
                 f"Neutral of the supply: {source.title}", Area(x, y, 60, LINE + 4),
                 texts=(text,))


def _names(ground: Ground, each: Outcome) -> tuple[str, ...]:
    return ground.grid.lines(each.terminal or ", ".join(ground.sheet.nets[each.net].edge))


def _edge_height(ground: Ground, outcomes: Sequence[Outcome]) -> float:
    names = (each.terminal or ", ".join(ground.sheet.nets[each.net].edge) for each in outcomes)
    return LINE * max((len(ground.grid.lines(n, strong=True)) for n in names), default=0) + 4


def _edge(ground: Ground, terminal: str, column: int, end: float) -> Iterator[Shape]:
    lines, x = ground.grid.lines(terminal, strong=True), ground.grid.axis(column)
    first = end - 4 - LINE * (len(lines) - 0.5)
    yield Ring(terminal, f"terminal {terminal}", x, end,
               ground.grid.beside(column, first, lines, strong=len(lines)))


def _rings_height(ground: Ground, outcomes: Sequence[Outcome]) -> float:
    return LINE * max((len(_names(ground, each)) for each in outcomes), default=1)


def _boxed(
    ground: Ground, bank: Bank, outcomes: Sequence[Outcome], y: float
) -> Iterator[Shape]:
    """Yield the terminals at which columns go back into the box, and the box."""
    top = y + _rings_height(ground, outcomes)
    for each in outcomes:
        lines, x = _names(ground, each), ground.grid.axis(each.column)
        start = top - LINE * len(lines)
        yield Line(each.net, ((x, each.y), (x, start)))
        key = f"{bank.tree.source.key}:{ground.sheet.nets[each.net].edge[0]}"
        yield from ring(each.net, key, ground.grid, each.column, start, lines)
    if outcomes:
        yield box_shape(ground, bank, top, foot=True)
