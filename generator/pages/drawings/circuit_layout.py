"""From a circuit sheet to its plan: banks of columns in rows on one page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from generator.pages.drawings.circuit_banks import Bank, Tree, rows
from generator.pages.drawings.circuit_grid import EDGE, WIDTH, Grid
from generator.pages.drawings.circuit_limbs import points_of
from generator.pages.drawings.circuit_plan import CircuitPlan, Shape
from generator.pages.drawings.circuit_repeats import once
from generator.pages.drawings.circuit_rows import laid_row
from generator.pages.drawings.circuit_stacks import Ground
from generator.pages.drawings.circuit_trees import grow
from generator.pages.drawings.circuit_trunks import trunked
from generator.pages.drawings.circuit_values import CircuitSheet, Feed

_BETWEEN = 18.0


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
        laid = laid_row(ground, row, y, footed)
        shapes += laid.shapes
        y = laid.foot + _BETWEEN
    return CircuitPlan(WIDTH, y - _BETWEEN + EDGE if found else 2 * EDGE, tuple(shapes))


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
