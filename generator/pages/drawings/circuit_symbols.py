"""Symbols of contacts, fuses and loads in plain strokes, after the general idea of IEC 60617."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.drawings.circuit_grid import LINE, RING, Grid
from generator.pages.drawings.circuit_plan import Line, Ring, Shape, Stroke, Symbol
from generator.pages.drawings.circuit_values import Element, Look
from generator.pages.drawings.lettering import BODY
from generator.pages.drawings.plan import Area, Text

LEAD = 5
"""Length of a line where no terminal is written."""
LEFT = 9.0
"""How far a symbol reaches to the left of its line."""
_BODY = 32
_GAP = 9  # from the middle of a contact to either end of its gap
_LOAD = Area(-9, -12, 18, 24)
_FUSE = Area(-4, -11, 8, 22)


def full_name(element: Element, name: str) -> str:
    """Return a terminal with its part: `-K1:L`; nothing where none is written."""
    return name if not name or name.startswith("-") else f"{element.heading}:{name}"


@dataclass(frozen=True)
class Written:
    """An element with its words in lines."""

    element: Element
    above: tuple[str, ...]
    beside: tuple[str, ...]
    below: tuple[str, ...]

    @property
    def heights(self) -> tuple[float, float, float]:
        """Heights of the terminal above, the symbol and the terminal below."""
        body = max(_BODY, LINE * len(self.beside) + 2)
        return LINE * len(self.above) or LEAD, body, LINE * len(self.below) or LEAD

    @property
    def height(self) -> float:
        """Height of it all."""
        return sum(self.heights)


def written(element: Element, grid: Grid) -> Written:
    """Return an element with its words broken into lines."""
    words = (*grid.lines(element.heading, strong=True),
             *(line for each in element.lines for line in grid.lines(each)))
    return Written(element, grid.lines(element.a_name), words, grid.lines(element.b_name))


def element_shapes(element: Element, grid: Grid, column: int, y: float) -> Iterator[Shape]:
    """Yield the symbol with its terminals, the upper end of its line at y."""
    done = written(element, grid)
    above, body, _ = done.heights
    yield from terminal(element, True, grid, column, y, done.above)
    yield _symbol(done, grid, column, y + above, body)
    yield from terminal(element, False, grid, column, y + above + body, done.below)


def terminal(
    element: Element, upper: bool, grid: Grid, column: int, y: float, lines: tuple[str, ...]
) -> Iterator[Shape]:
    """Yield the terminal at one end of an element, or the line that stands for it."""
    net, name = (element.a, element.a_name) if upper else (element.b, element.b_name)
    yield from ring(net, full_name(element, name), grid, column, y, lines)


def ring(
    net: str, key: str, grid: Grid, column: int, y: float, lines: tuple[str, ...],
    last: bool = False, first: bool = False,
) -> Iterator[Shape]:
    """Yield a terminal on its line, or the line alone where nothing is written.

    The line begins at the terminal where that is the first thing, and ends there if it is the last.
    """
    x = grid.axis(column)
    if not lines:
        yield Line(net, ((x, y), (x, y + LEAD)))
        return
    middle = y + LINE / 2
    if not first:
        yield Line(net, ((x, y), (x, middle - RING)))
    yield Ring(key, key, x, middle, grid.beside(column, middle, lines))
    if not last:
        yield Line(net, ((x, middle + RING), (x, y + LINE * len(lines))))


def _symbol(done: Written, grid: Grid, column: int, y: float, height: float) -> Symbol:
    element, x = done.element, grid.axis(column)
    middle = y + height / 2
    first = middle - LINE * (len(done.beside) - 1) / 2
    bold = len(grid.lines(element.heading, strong=True))
    texts = grid.beside(column, first, done.beside, strong=bold)
    letter = (Text(x, middle, element.letter, "c", BODY, strong=True),) if element.letter else ()
    area = Area(x - LEFT, y, LEFT + grid.step - 15, height)
    kind = "load" if element.look is Look.LOAD else "contact"
    return Symbol(element.key, kind, element.words, area,
                  _strokes(element.look, x, y, middle, y + height),
                  _boxes(element.look, x, middle), (*texts, *letter))


def _boxes(look: Look, x: float, middle: float) -> tuple[Area, ...]:
    shape = {Look.LOAD: _LOAD, Look.FUSE: _FUSE}.get(look)
    return (Area(x + shape.x, middle + shape.y, shape.width, shape.height),) if shape else ()


def _strokes(look: Look, x: float, top: float, middle: float, foot: float) -> tuple[Stroke, ...]:
    if look is Look.FUSE:
        return (((x, top), (x, foot)),)
    gap = -_LOAD.y if look is Look.LOAD else _GAP
    leads = ((x, top), (x, middle - gap)), ((x, middle + gap), (x, foot))
    match look:
        case Look.LOAD:
            return leads
        case Look.BREAK:
            fixed = (x, middle - gap), (x + 7, middle - gap)
            return (*leads, fixed, ((x, middle + gap), (x + 6, middle - gap - 4)))
        case Look.ISOLATOR:
            bar = (x - 4, middle - gap), (x + 4, middle - gap)
            return (*leads, bar, ((x, middle + gap), (x - 8, middle - gap + 2)))
        case _:
            return (*leads, ((x, middle + gap), (x - 8, middle - gap + 2)))
