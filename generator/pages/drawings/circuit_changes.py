"""A change-over: two contacts of one switch that share a terminal, of which one is open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.drawings.circuit_blocks import Series
from generator.pages.drawings.circuit_grid import LINE, Grid
from generator.pages.drawings.circuit_limbs import Fork, Limb
from generator.pages.drawings.circuit_plan import Line, Shape, Symbol
from generator.pages.drawings.circuit_symbols import LEAD, LEFT, terminal, written
from generator.pages.drawings.circuit_values import Element, Look
from generator.pages.drawings.plan import Area

_THROW = 20  # from the pivot to the fixed contacts
_ASIDE = 24  # from the line of the resting contact to the other fixed contact
_FOOT = 10


@dataclass(frozen=True)
class ChangeOver:
    """The limb that is joined at rest, and the one that is joined when the switch is worked."""

    rest: Limb
    worked: Limb

    @property
    def width(self) -> int:
        """Columns it takes."""
        return self.rest.width + self.worked.width


def head(limb: Limb) -> Element | None:
    """Return the contact that a limb begins with."""
    block = limb.block
    while isinstance(block, Series):
        block = block.first
    return block if isinstance(block, Element) else None


def paired(fork: Fork) -> tuple[Limb | ChangeOver, ...]:
    """Return the limbs of a net, change-over contacts put together."""
    found: list[Limb | ChangeOver] = []
    waiting = list(fork.limbs)
    while waiting:
        limb = waiting.pop(0)
        other = next((each for each in waiting if _share(limb, each)), None)
        if other is None:
            found.append(limb)
            continue
        waiting.remove(other)
        at_rest = head(limb)
        first = at_rest is not None and at_rest.look is Look.BREAK
        found.append(ChangeOver(limb, other) if first else ChangeOver(other, limb))
    return tuple(found)


def _share(one: Limb, other: Limb) -> bool:
    a, b = head(one), head(other)
    return bool(a and b and a.worked_by and a.worked_by == b.worked_by
                and a.heading == b.heading and a.a_name == b.a_name
                and {a.look, b.look} == {Look.MAKE, Look.BREAK})


def change_height(change: ChangeOver, grid: Grid) -> float:
    """Return the height from its line to the feet of both contacts."""
    rest, worked = _elements(change)
    upper, words, lower = _heights(rest, worked, grid)
    return upper + LINE + _THROW + _FOOT + words + lower


def _elements(change: ChangeOver) -> tuple[Element, Element]:
    rest, worked = head(change.rest), head(change.worked)
    assert rest and worked
    return rest, worked


def _heights(rest: Element, worked: Element, grid: Grid) -> tuple[float, float, float]:
    """Heights of the shared terminal, of the words below the contacts, of their terminals."""
    words = max(LINE * len(_words(each, grid)) for each in (rest, worked))
    lower = max(written(each, grid).heights[2] for each in (rest, worked))
    return written(rest, grid).heights[0], words, lower


def _words(element: Element, grid: Grid) -> tuple[str, ...]:
    return tuple(line for each in element.lines for line in grid.lines(each))


def change_shapes(change: ChangeOver, grid: Grid, column: int, y: float) -> Iterator[Shape]:
    """Yield both contacts with their terminals, the upper end of their line at y."""
    rest, worked = _elements(change)
    upper, words, lower = _heights(rest, worked, grid)
    yield from terminal(rest, True, grid, column, y, written(rest, grid).above)
    aside = column + change.rest.width
    top = y + upper
    foot = top + LINE + _THROW + _FOOT + words
    yield _resting(rest, grid, column, top, foot)
    yield _other(worked, grid, (column, aside), top, foot)
    for element, place in ((rest, column), (worked, aside)):
        lines = written(element, grid).below
        yield from terminal(element, False, grid, place, foot, lines)
        x, reached = grid.axis(place), foot + (LINE * len(lines) or LEAD)
        if reached < foot + lower:
            yield Line(element.b, ((x, reached), (x, foot + lower)))


def _resting(element: Element, grid: Grid, column: int, top: float, foot: float) -> Symbol:
    x, pivot = grid.axis(column), top + LINE
    fixed = pivot + _THROW
    strokes = (
        ((x, top), (x, pivot)), ((x, fixed), (x + 7, fixed)), ((x, fixed), (x, foot)),
        ((x, pivot), (x + 6, fixed + 4)))
    heading = grid.lines(element.heading, strong=True)[:1]
    texts = (*grid.beside(column, top + LINE / 2, heading, strong=1),
             *grid.beside(column, fixed + _FOOT + LINE / 2, _words(element, grid)))
    area = Area(x - LEFT, top, LEFT + _ASIDE - 8, foot - top)
    return Symbol(element.key, "contact", element.words, area, strokes, (), texts)


def _other(
    element: Element, grid: Grid, columns: tuple[int, int], top: float, foot: float
) -> Symbol:
    x, pivot = grid.axis(columns[0]), top + LINE
    fixed, far = pivot + _THROW, grid.axis(columns[1])
    out = x + _ASIDE
    strokes = (
        ((out - 7, fixed), (out, fixed)), ((out, fixed), (out, fixed + 6)),
        ((out, fixed + 6), (far, fixed + 6)), ((far, fixed + 6), (far, foot)))
    texts = grid.beside(columns[1], fixed + _FOOT + LINE / 2, _words(element, grid))
    area = Area(far - LEFT, fixed + _FOOT, LEFT + grid.step - 15, foot - fixed - _FOOT)
    return Symbol(element.key, "contact", element.words, area, strokes, (), texts)
