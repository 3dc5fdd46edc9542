"""Columns in banks as wide as a phone: what finds no room begins again at a named point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_changes import ChangeOver, paired
from generator.pages.drawings.circuit_grid import room
from generator.pages.drawings.circuit_limbs import Fork, Limb, elements_of
from generator.pages.drawings.circuit_trunks import Trunk
from generator.pages.drawings.circuit_values import Feed, Source
from generator.pages.drawings.lettering import longest

COLUMNS = 4
"""As many as leave room for the words beside a contact on a phone."""
SIDE = Feed.SUPPLY
"""Supplies stand side by side where there is room."""


@dataclass(frozen=True)
class Tree:
    """A source with what hangs on each of its upper nets."""

    source: Source
    trunk: Trunk
    forks: tuple[Fork, ...]


@dataclass(frozen=True)
class Run:
    """A net at the top of neighbouring columns; `again` where it stood at the top before."""

    fork: Fork
    again: bool


@dataclass(frozen=True)
class Bank:
    """Columns of one source that stand together; `first` is its first bank."""

    tree: Tree
    runs: tuple[Run, ...]
    first: bool

    @property
    def width(self) -> int:
        """Columns it takes."""
        return sum(run.fork.width for run in self.runs)


def rows(trees: Iterable[Tree]) -> tuple[tuple[Bank, ...], ...]:
    """Return the banks in rows; the first banks of all supplies come first, side by side."""
    found: list[tuple[Bank, ...]] = []
    banks = [bank for tree in trees for bank in _banks(tree)]
    for bank in sorted(banks, key=lambda each: (not each.first, each.tree.source.feed is not SIDE)):
        place = next((i for i, row in enumerate(found) if _joins(row, bank)), None)
        if place is None:
            found.append((bank,))
        else:
            found[place] = (*found[place], bank)
    return tuple(found)


def _joins(row: tuple[Bank, ...], bank: Bank) -> bool:
    """Tell whether a bank may stand beside others: only supplies do, each once in a row."""
    sources = {each.tree.source.key for each in row}
    feeds = {each.tree.source.feed for each in (*row, bank)}
    return (feeds == {SIDE} and bank.tree.source.key not in sources
            and all(each.first == bank.first for each in row)
            and _fit([run.fork for each in (*row, bank) for run in each.runs]))


def _fit(forks: list[Fork]) -> bool:
    """Tell whether columns are few enough, and wide enough for their longest word."""
    columns = sum(fork.width for fork in forks)
    words = (word for fork in forks for element in elements_of(fork)
             for word in (element.a_name, element.b_name, *element.lines))
    needed = max(map(longest, words), default=0)
    return columns <= COLUMNS and (len(forks) == 1 or room(columns) >= needed)


def _banks(tree: Tree) -> Iterator[Bank]:
    banks: list[list[Run]] = []
    for run in _runs(tree):
        if not banks or not _fit([each.fork for each in (*banks[-1], run)]):
            banks.append([])
        banks[-1].append(run)
    for place, runs in enumerate(banks):
        yield Bank(tree, _together(runs), place == 0)


def _together(runs: list[Run]) -> tuple[Run, ...]:
    """Return the runs of one bank, those of one net as one."""
    found: list[Run] = []
    for run in runs:
        if found and found[-1].fork.net == run.fork.net:
            limbs = (*found[-1].fork.limbs, *run.fork.limbs)
            found[-1] = replace(found[-1], fork=Fork(run.fork.net, limbs))
        else:
            found.append(run)
    return tuple(found)


def _runs(tree: Tree) -> Iterator[Run]:
    """Yield every limb as a run of its own, those cut off last."""
    cut: list[Run] = []
    for fork in tree.forks:
        again = False
        for limbs in _units(fork):
            done = [_cut(limb) for limb in limbs]
            yield Run(Fork(fork.net, tuple(kept for kept, _ in done)), again)
            cut += (run for _, off in done for run in off)
            again = True
        if not fork.limbs:
            yield Run(fork, False)
    yield from cut


def _units(fork: Fork) -> Iterator[tuple[Limb, ...]]:
    """Yield the limbs of a net, those of a change-over together if there is room."""
    for limb in paired(fork):
        if not isinstance(limb, ChangeOver):
            yield (limb,)
        elif limb.width <= COLUMNS:
            yield (limb.rest, limb.worked)
        else:
            yield from ((limb.rest,), (limb.worked,))


def _cut(limb: Limb) -> tuple[Limb, list[Run]]:
    """Return a limb with no more columns than a bank has, and what was cut off it."""
    if not isinstance(limb.end, Fork):
        return limb, []
    kept: list[Limb] = []
    off: list[Run] = []
    for limbs in _units(limb.end):
        done = [_cut(below) for below in limbs]
        whole = tuple(each for each, _ in done)
        off += (run for _, more in done for run in more)
        if sum(each.width for each in (*kept, *whole)) <= COLUMNS:
            kept += whole
        else:
            off.append(Run(Fork(limb.end.net, whole), True))
    return replace(limb, end=Fork(limb.end.net, tuple(kept))), off
