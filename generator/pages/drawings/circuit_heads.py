"""What stands above the columns of a bank: a supply, a closed part, or terminals on an edge."""

from __future__ import annotations

from collections.abc import Iterator

from generator.pages.drawings.circuit_banks import Bank, Run
from generator.pages.drawings.circuit_grid import LINE, RING
from generator.pages.drawings.circuit_plan import Arrow, Line, Ring, Shape, Symbol
from generator.pages.drawings.circuit_stacks import Ground, block_height, block_shapes
from generator.pages.drawings.circuit_symbols import LEFT, ring
from generator.pages.drawings.circuit_values import Element, Feed
from generator.pages.drawings.lettering import BODY, wrap
from generator.pages.drawings.plan import Area, Text

HATCH = 9
"""Height of the hatched strip that stands for what is not known."""
ARROW = 9
"""Height of the sign of a named point."""
BOXED = (Feed.CLOSED, Feed.VOLT_FREE)
"""What columns hang on like on a box, and come back to."""


def head_height(ground: Ground, bank: Bank, run: Run) -> float:
    """Return the height from the top of the bank to the net of a run."""
    box = box_height(ground, bank) if bank.tree.source.feed in BOXED else 0
    net = ground.sheet.nets[run.fork.net]
    if run.again:
        return box + _rim(bank) + LINE * len(ground.grid.lines(net.name)) + 4
    match bank.tree.source.feed:
        case Feed.SUPPLY:
            title = LINE * len(_title(ground, bank, run)) + 4
            return title + sum(_step(ground, e) for e in bank.tree.trunk.above)
        case Feed.PART:
            return head_height_of_edge(ground, run)
        case _:
            return box + LINE * len(ground.grid.lines(", ".join(net.edge)))


def box_height(ground: Ground, bank: Bank) -> float:
    """Return the height of the box that a bank hangs on."""
    return LINE * len(_box_lines(ground, bank, bank.tree.source.title)) + 6 + HATCH


def back_height(ground: Ground, bank: Bank) -> float:
    """Return the height of the box that columns go back into."""
    return LINE * len(_box_lines(ground, bank, bank.tree.source.back)) + 6 + HATCH


def _box_lines(ground: Ground, bank: Bank, words: str) -> tuple[str, ...]:
    return wrap(words, ground.grid.step * bank.width - 12, strong=True)


def _title(ground: Ground, bank: Bank, run: Run) -> tuple[str, ...]:
    room = ground.grid.step * run.fork.width - 12
    return ("Line", *wrap(bank.tree.source.title, room))


def _step(ground: Ground, element: Element) -> float:
    return LINE * len(ground.label(element.a)) + block_height(ground, element)


def head_shapes(
    ground: Ground, bank: Bank, run: Run, column: int, y: float
) -> Iterator[Shape]:
    """Yield what stands above the net of a run; the box itself is drawn once for the bank."""
    net, grid = ground.sheet.nets[run.fork.net], ground.grid
    box = box_height(ground, bank) if bank.tree.source.feed in BOXED else 0
    if run.again:
        yield from _again(ground, run, column, y + box + _rim(bank))
        return
    match bank.tree.source.feed:
        case Feed.SUPPLY:
            yield from _supply(ground, bank, run, column, y)
        case Feed.PART:
            yield from _edge(ground, run, column, y)
        case _:
            lines = grid.lines(", ".join(net.edge))
            key = f"{bank.tree.source.key}:{net.edge[0]}" if net.edge else net.name
            yield from ring(run.fork.net, key, grid, column, y + box, lines)


def _rim(bank: Bank) -> float:
    """Return how far a named point stands below the edge of a part."""
    return 4 if bank.tree.source.feed is Feed.PART else 0


def _again(ground: Ground, run: Run, column: int, y: float) -> Iterator[Shape]:
    lines = ground.grid.lines(ground.sheet.nets[run.fork.net].name)
    x = ground.grid.axis(column)
    yield Arrow(run.fork.net, x, y, ground.grid.beside(column, y + LINE / 2, lines))
    yield Line(run.fork.net, ((x, y + ARROW), (x, y + LINE * len(lines) + 4)))


def _supply(ground: Ground, bank: Bank, run: Run, column: int, y: float) -> Iterator[Shape]:
    x, lines = ground.grid.axis(column) - LEFT, _title(ground, bank, run)
    texts = tuple(Text(x, y + LINE * (place + 0.5), words, "l", BODY, strong=not place)
                  for place, words in enumerate(lines))
    area = Area(x, y, ground.grid.step * run.fork.width - 12, LINE * len(lines) + 4)
    source = bank.tree.source
    yield Symbol(f"supply-{source.key}", "supply", f"Line of the supply: {source.title}",
                 area, texts=texts)
    y += area.height
    for element in bank.tree.trunk.above:
        label = ground.label(element.a)
        if label:
            name = ground.sheet.nets[element.a].name
            yield from ring(element.a, name, ground.grid, column, y, label)
        yield from block_shapes(ground, element, column, y + LINE * len(label))
        y += _step(ground, element)


def _edge(ground: Ground, run: Run, column: int, y: float) -> Iterator[Shape]:
    net, x = ground.sheet.nets[run.fork.net], ground.grid.axis(column)
    foot = y + head_height_of_edge(ground, run)
    if not net.edge:
        return
    name = net.edge[0]
    lines = ground.grid.lines(name, strong=True)
    texts = ground.grid.beside(column, y + 4 + LINE / 2, lines, strong=len(lines))
    yield Ring(name, f"terminal {name}", x, y, texts)
    yield Line(run.fork.net, ((x, y + RING), (x, foot)))


def head_height_of_edge(ground: Ground, run: Run) -> float:
    """Return the height of a terminal on the upper edge of a part with its name."""
    net = ground.sheet.nets[run.fork.net]
    return LINE * len(ground.grid.lines(net.edge[0] if net.edge else "", strong=True)) + 8


def box_shape(ground: Ground, bank: Bank, y: float, foot: bool) -> Symbol:
    """Return the box above the columns, or below them, with a hatched strip towards them."""
    left, wide = ground.grid.left, ground.grid.step * bank.width - 4
    source = bank.tree.source
    words, measure = (source.back, back_height) if foot else (source.title, box_height)
    height, lines = measure(ground, bank), _box_lines(ground, bank, words)
    strip = y if foot else y + height - HATCH
    first = y + (HATCH if foot else 0) + 3 + LINE / 2
    texts = tuple(Text(left + 4, first + LINE * place, words, "l", BODY, strong=True)
                  for place, words in enumerate(lines))
    unknown = source.feed is Feed.CLOSED
    strokes = hatch(Area(left, strip, wide, HATCH)) if unknown else ()
    return Symbol(f"{source.key}-{'foot' if foot else 'head'}", "box", source.title,
                  Area(left, y, wide, height), strokes,
                  (Area(left, y, wide, height),), texts)


def hatch(place: Area) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return slanted strokes that fill a strip."""
    count = int((place.width - place.height) // 8)
    starts = (place.x + 2 + 8 * i for i in range(max(1, count)))
    return tuple(((x, place.y + place.height - 1), (x + place.height - 2, place.y + 1))
                 for x in starts)
