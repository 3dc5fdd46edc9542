"""Places of one row of banks: heads, columns and feet put together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_banks import Bank, Run
from generator.pages.drawings.circuit_feet import foot_height, foot_shapes
from generator.pages.drawings.circuit_grid import EDGE, WIDTH, Grid, step
from generator.pages.drawings.circuit_heads import BOXED, box_shape, head_height, head_shapes
from generator.pages.drawings.circuit_places import Outcome, fork_height, fork_shapes
from generator.pages.drawings.circuit_plan import Shape, Symbol
from generator.pages.drawings.circuit_stacks import Ground
from generator.pages.drawings.circuit_values import Feed
from generator.pages.drawings.plan import Area

_SPACE = 6.0


@dataclass(frozen=True)
class Laid:
    """Shapes, and how far down they reach."""

    shapes: tuple[Shape, ...]
    foot: float


def laid_row(
    ground: Ground, row: tuple[Bank, ...], y: float, footed: set[tuple[str, str]]
) -> Laid:
    """Return the shapes of a row; `footed` holds the lower nets whose way on is drawn already."""
    wide = step(sum(bank.width for bank in row))
    shapes: list[Shape] = []
    left, foot = EDGE, y
    for bank in row:
        placed = replace(ground, grid=_grid(bank, left, wide))
        laid = _bank(placed, bank, y, footed)
        shapes += laid.shapes
        foot = max(foot, laid.foot)
        left += wide * bank.width
    return Laid(tuple(shapes), foot)


def _grid(bank: Bank, left: float, wide: float) -> Grid:
    """Return the columns of a bank; those of a part stand a little inside its frame."""
    if bank.tree.source.feed is not Feed.PART:
        return Grid(left, wide)
    return Grid(left + _SPACE / 2, wide - 1.5 * _SPACE / bank.width)


def _bank(ground: Ground, bank: Bank, y: float, footed: set[tuple[str, str]]) -> Laid:
    part = bank.tree.source.feed is Feed.PART
    top = y + _SPACE if part else y
    heights = (
        head_height(ground, bank, run) + fork_height(ground, run.fork, _said(ground, bank, run))
        for run in bank.runs)
    end = top + max(heights) + _SPACE
    ground = replace(ground, foot=end)
    drawn = [each for run, column in _columns(bank)
             for each in _run(ground, bank, run, column, top)]
    outcomes = [each for each in drawn if isinstance(each, Outcome)]
    shapes = [each for each in drawn if not isinstance(each, Outcome)]
    trunk = _first_foot(bank, outcomes, footed)
    foot = end + foot_height(ground, bank, outcomes, trunk) if outcomes or part else end
    if outcomes:
        shapes += foot_shapes(ground, bank, outcomes, end, trunk)
    if bank.tree.source.feed in BOXED:
        shapes.insert(0, box_shape(ground, bank, y, foot=False))
    if part:
        shapes.insert(0, _frame(ground, bank, top, foot))
    return Laid(tuple(shapes), foot + (_SPACE if part else 0))


def _columns(bank: Bank) -> Iterator[tuple[Run, int]]:
    column = 0
    for run in bank.runs:
        yield run, column
        column += run.fork.width


def _run(
    ground: Ground, bank: Bank, run: Run, column: int, y: float
) -> Iterator[Shape | Outcome]:
    yield from head_shapes(ground, bank, run, column, y)
    start = y + head_height(ground, bank, run)
    yield from fork_shapes(ground, run.fork, column, start,
                           _said(ground, bank, run), _unled(ground, bank, run))


def _said(ground: Ground, bank: Bank, run: Run) -> bool:
    """Tell whether the name of a run's net stands above it already."""
    part = bank.tree.source.feed is Feed.PART
    return run.again or (part and bool(ground.sheet.nets[run.fork.net].edge))


def _unled(ground: Ground, bank: Bank, run: Run) -> bool:
    """Tell whether nothing stands above a net, since no terminal of it is on the edge."""
    part = bank.tree.source.feed is Feed.PART
    return part and not run.again and not ground.sheet.nets[run.fork.net].edge


def _first_foot(
    bank: Bank, outcomes: list[Outcome], footed: set[tuple[str, str]]
) -> bool:
    """Tell whether the way to the supply's neutral is drawn here, and remember that it is."""
    here = {(bank.tree.source.key, each.net) for each in outcomes}
    first = bool(here) and not here & footed
    footed |= here
    return first


def _frame(ground: Ground, bank: Bank, top: float, foot: float) -> Symbol:
    area = Area(EDGE, top, WIDTH - 2 * EDGE, foot - top)
    key = bank.tree.source.key if bank.first else f"{bank.tree.source.key}-more"
    return Symbol(key, "frame", bank.tree.source.title, area, boxes=(area,))
