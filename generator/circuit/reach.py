"""Which terminals are joined to what, in all states at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from operator import or_
from typing import NamedTuple

from generator.circuit.tables import Table

Ways = Mapping[int, tuple[tuple[int, Table], ...]]
"""For each place of a terminal: the places that contacts or loads join it to, and in which states.
"""

Joint = tuple[int, int]
"""The places of two terminals that are joined."""


@dataclass(frozen=True)
class Nets:
    """Terminals joined by conductors, as one net each; nets are numbered in terminal order.

    `place` counts the terminals through, `at` has the number of the net at each place.
    """

    place: Mapping[str, int]
    at: Sequence[int]
    count: int

    @cached_property
    def of(self) -> Mapping[str, int]:
        """The number of the net that each terminal is on."""
        return dict(zip(self.place, self.at, strict=True))

    def terminals(self) -> tuple[tuple[str, ...], ...]:
        """Return the terminals of each net, in order."""
        groups: list[list[str]] = [[] for _ in range(self.count)]
        for terminal, net in self.of.items():
            groups[net].append(terminal)
        return tuple(map(tuple, groups))

    def joined(self, a: int, b: int) -> Nets:
        """Return the nets with one more joint, between the terminals at two places."""
        kept, gone = self.at[a], self.at[b]
        if kept == gone:
            return self
        if kept > gone:
            kept, gone = gone, kept
        # All numbers above the one that is gone move down, so that they stay in terminal order.
        number = [*range(gone), kept, *range(gone, self.count - 1)]
        return Nets(self.place, [number[net] for net in self.at], self.count - 1)

    def parted(self, out: Joint, joints: Iterable[Joint]) -> Nets:
        """Return the nets with a joint out; `joints` are all that are left."""
        at, (a, b) = self.at, out
        net, side, before = at[a], {b}, 0
        near = [joint for joint in joints if at[joint[0]] == net]
        while len(side) > before:
            before = len(side)
            for joint in near:
                if not side.isdisjoint(joint):
                    side.update(joint)
        if a in side:
            return self
        if at.index(net) in side:
            side = {place for place, other in enumerate(at) if other == net} - side
        # The new number is in terminal order as well: those from there on move up.
        new = 1 + max(at[:min(side)])
        number = [*range(new), *range(new + 1, self.count + 1)]
        parted = [number[net] for net in at]
        for place in side:
            parted[place] = new
        return Nets(self.place, parted, self.count + 1)


def nets(terminals: Iterable[str], joints: Iterable[tuple[str, str]]) -> Nets:
    """Return the nets that `joints` (pairs of terminals at 0 ohm) make of `terminals`."""
    place = {terminal: i for i, terminal in enumerate(dict.fromkeys(terminals))}
    first = joined_numbers(len(place), [(place[a], place[b]) for a, b in joints])
    number = {net: i for i, net in enumerate(dict.fromkeys(first))}
    return Nets(place, [number[net] for net in first], len(number))


def joined_numbers(count: int, joints: Iterable[tuple[int, int]]) -> list[int]:
    """Return for each of `count` nets the one that speaks for all it is joined to."""
    root = list(range(count))
    for a, b in joints:
        while root[a] != a:
            a = root[a]
        while root[b] != b:
            b = root[b]
        if a < b:
            root[b] = a
        else:
            root[a] = b
    # A root is never above what it speaks for, so its own is known by then.
    for net, above in enumerate(root):
        root[net] = root[above]
    return root


class Neighbours(NamedTuple):
    """The ways that lead on from each net; `at` has the number of the net at each place."""

    at: Sequence[int]
    ways: Ways


def ways(joining: Iterable[tuple[int, int, Table]]) -> Ways:
    """Return what joins (place, place, where) by place, both ways, without what never joins."""
    found: dict[int, tuple[tuple[int, Table], ...]] = {}
    for a, b, table in joining:
        if table:
            found[a] = (*found.get(a, ()), (b, table))
            found[b] = (*found.get(b, ()), (a, table))
    return found


def neighbours(nets: Nets, *ways: Ways) -> Neighbours:
    """Return the ways between places as ways on from each net."""
    at, found = nets.at, dict[int, tuple[tuple[int, Table], ...]]()
    for each in ways:
        for place, there in each.items():
            net = at[place]
            found[net] = found[net] + there if net in found else there
    return Neighbours(at, found)


def reach(
    beside: Neighbours, sources: Mapping[int, Table], barred: Mapping[int, Table] | None = None
) -> dict[int, Table]:
    """Return in which states each net is reached from `sources`; the rest are reached in none.

    In the states of `barred` a net is neither reached nor passed. A work-list: each net is taken
    up again only with the states that are new to it.
    """
    most = reduce(or_, sources.values(), 0)
    left = {net: most & ~table for net, table in barred.items()} if barred else {}
    fresh: dict[int, Table] = {}
    for net, table in sources.items():
        room = left.get(net, most)
        if new := table & room:
            fresh[net], left[net] = new, room ^ new
    reached: dict[int, Table] = {}
    at, ways = beside
    queue = [*fresh]
    for net in queue:
        new = fresh.pop(net)
        reached[net] = reached[net] | new if net in reached else new
        for place, joined in ways.get(net, ()):
            if come := new & joined:
                other = at[place]
                if other not in left:
                    left[other], fresh[other] = most ^ come, come
                    queue.append(other)
                elif come := come & left[other]:
                    left[other] ^= come
                    if other not in fresh:
                        queue.append(other)
                    fresh[other] = fresh.get(other, 0) | come
    return reached
