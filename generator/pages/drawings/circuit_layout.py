"""From a circuit sheet to its plan: banks of columns in rows on one page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_banks import Bank, Run, Tree, rows
from generator.pages.drawings.circuit_feet import foot_height, foot_shapes
from generator.pages.drawings.circuit_grid import EDGE, WIDTH, Grid, step
from generator.pages.drawings.circuit_heads import BOXED, box_shape, head_height, head_shapes
from generator.pages.drawings.circuit_places import (
    Ground,
    Outcome,
    fork_height,
    fork_shapes,
)
from generator.pages.drawings.circuit_plan import CircuitPlan, Shape, Symbol
from generator.pages.drawings.circuit_repeats import once
from generator.pages.drawings.circuit_trees import grow, points_of
from generator.pages.drawings.circuit_trunks import trunked
from generator.pages.drawings.circuit_values import CircuitSheet, Feed
from generator.pages.drawings.plan import Area

_BETWEEN = 18.0
_SPACE = 6.0


def trees(sheet: CircuitSheet) -> tuple[Tree, ...]:
    """Return what hangs on each source; sources without anything are left out."""
    sources, trunks, rest = [], [], sheet.elements
    for source in sheet.sources:
        shorter, trunk, rest = trunked(source, rest)
        sources.append(shorter)
        trunks.append(trunk)
    edged = {name: net.edge for name, net in sheet.nets.items()}
    edges = edged if any(s.feed is Feed.PART for s in sources) else {}
    grown = grow(tuple(sources), rest, edges)
    whole = [Tree(*each) for each in zip(sources, trunks, grown, strict=True)]
    pointed = {net for tree in whole for fork in tree.forks for net in points_of(fork)}
    pointed |= _shared(whole)
    return tuple(tree for each in whole if (tree := _used(each, pointed)).forks)


def _shared(whole: Iterable[Tree]) -> set[str]:
    """Return the upper nets of more than one source."""
    times = Counter(net for tree in whole for net in tree.source.upper)
    return {net for net, count in times.items() if count > 1}


def _used(tree: Tree, pointed: set[str]) -> Tree:
    """Return a source with the nets on which something hangs, or that are named elsewhere."""
    part = tree.source.feed is Feed.PART
    forks = tuple(f for f in tree.forks if f.limbs or f.net in pointed or part)
    return replace(tree, forks=forks)


def circuit_plan(sheet: CircuitSheet) -> CircuitPlan:
    """Return the circuit with a place for everything in it."""
    found = tuple(tuple(map(once, row)) for row in rows(trees(sheet)))
    ground = Ground(sheet, _named(found), Grid(0, 0))
    shapes: list[Shape] = []
    footed: set[tuple[str, str]] = set()
    y = EDGE
    for row in found:
        laid = _row(ground, row, y, footed)
        shapes += laid.shapes
        y = laid.foot + _BETWEEN
    return CircuitPlan(WIDTH, y - _BETWEEN + EDGE if found else 2 * EDGE, tuple(shapes))


@dataclass(frozen=True)
class _Laid:
    shapes: tuple[Shape, ...]
    foot: float


def _named(found: tuple[tuple[Bank, ...], ...]) -> frozenset[str]:
    """Return the nets whose name stands at more than one place, and the nets of supplies."""
    runs = [(bank, run) for row in found for bank in row for run in bank.runs]
    names = {run.fork.net for _, run in runs if run.again}
    names |= _feet_again(found)
    names |= _shared({bank.tree.source.key: bank.tree for bank, _ in runs}.values())
    names |= {net for _, run in runs for net in points_of(run.fork)}
    for bank, _ in runs:
        if bank.tree.source.feed is Feed.SUPPLY:
            names |= set(() if bank.tree.trunk.above else bank.tree.source.upper)
            names |= set(() if bank.tree.trunk.below else bank.tree.source.lower)
    return frozenset(names)


def _feet_again(found: tuple[tuple[Bank, ...], ...]) -> set[str]:
    """Return the lower nets of supplies that take more than one bank."""
    later = (bank.tree.source for row in found for bank in row if not bank.first)
    return {net for source in later if source.feed is Feed.SUPPLY for net in source.lower}


def _row(
    ground: Ground, row: tuple[Bank, ...], y: float, footed: set[tuple[str, str]]
) -> _Laid:
    wide = step(sum(bank.width for bank in row))
    shapes: list[Shape] = []
    left, foot = EDGE, y
    for bank in row:
        placed = replace(ground, grid=_grid(bank, left, wide))
        laid = _bank(placed, bank, y, footed)
        shapes += laid.shapes
        foot = max(foot, laid.foot)
        left += wide * bank.width
    return _Laid(tuple(shapes), foot)


def _grid(bank: Bank, left: float, wide: float) -> Grid:
    """Return the columns of a bank; those of a part stand a little inside its frame."""
    if bank.tree.source.feed is not Feed.PART:
        return Grid(left, wide)
    return Grid(left + _SPACE / 2, wide - 1.5 * _SPACE / bank.width)


def _bank(ground: Ground, bank: Bank, y: float, footed: set[tuple[str, str]]) -> _Laid:
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
    return _Laid(tuple(shapes), foot + (_SPACE if part else 0))


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
