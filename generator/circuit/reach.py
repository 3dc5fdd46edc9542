"""Which terminals are joined to what, in all states at once."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.circuit.tables import Table

Neighbours = dict[int, list[tuple[int, Table]]]
"""For each net: the nets beside it, and in which states a contact or load joins them."""


@dataclass(frozen=True)
class Nets:
    """Terminals joined by conductors, as one net each; nets are numbered in terminal order."""

    of: Mapping[str, int]
    count: int

    def terminals(self) -> tuple[tuple[str, ...], ...]:
        """Return the terminals of each net, in order."""
        groups: list[list[str]] = [[] for _ in range(self.count)]
        for terminal, net in self.of.items():
            groups[net].append(terminal)
        return tuple(map(tuple, groups))


def nets(terminals: Iterable[str], joints: Iterable[tuple[str, str]]) -> Nets:
    """Return the nets that `joints` (pairs of terminals at 0 ohm) make of `terminals`."""
    root = {terminal: terminal for terminal in terminals}

    def top(terminal: str) -> str:
        while root[terminal] != terminal:
            root[terminal] = terminal = root[root[terminal]]
        return terminal

    for a, b in joints:
        root[top(a)] = top(b)
    number: dict[str, int] = {}
    of = {terminal: number.setdefault(top(terminal), len(number)) for terminal in root}
    return Nets(of, len(number))


def joined_numbers(count: int, joints: Iterable[tuple[int, int]]) -> list[int]:
    """Return for each of `count` nets the one that speaks for all it is joined to."""
    root = list(range(count))
    for a, b in joints:
        while root[a] != a:
            a = root[a]
        while root[b] != b:
            b = root[b]
        root[max(a, b)] = min(a, b)
    # A root is never above what it speaks for, so its own is known by then.
    for net, above in enumerate(root):
        root[net] = root[above]
    return root


def neighbours(edges: Iterable[tuple[int, int, Table]]) -> Neighbours:
    """Return the edges (net, net, table) by net, both ways, empty ones left out."""
    beside: Neighbours = {}
    for a, b, table in edges:
        if a != b and table:
            beside.setdefault(a, []).append((b, table))
            beside.setdefault(b, []).append((a, table))
    return beside


def reach(
    beside: Neighbours, sources: Mapping[int, Table], barred: Mapping[int, Table] | None = None
) -> dict[int, Table]:
    """Return in which states each net is reached from `sources`; the rest are reached in none.

    In the states of `barred` a net is neither reached nor passed. A work-list: each net is taken
    up again only with the states that are new to it.
    """
    barred = barred or {}
    reached: dict[int, Table] = {}
    fresh: dict[int, Table] = {}
    queue: deque[int] = deque()

    def arrive(net: int, table: Table) -> None:
        new = table & ~reached.get(net, 0) & ~barred.get(net, 0)
        if new:
            reached[net] = reached.get(net, 0) | new
            if net not in fresh:
                queue.append(net)
            fresh[net] = fresh.get(net, 0) | new

    for net, table in sources.items():
        arrive(net, table)
    while queue:
        net = queue.popleft()
        new = fresh.pop(net)
        for other, joined in beside.get(net, ()):
            arrive(other, new & joined)
    return reached
