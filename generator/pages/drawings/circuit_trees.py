"""What hangs below each source: every net once, under the net that feeds it, loads last."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from generator.pages.drawings.circuit_blocks import Block, Series, from_net, joined
from generator.pages.drawings.circuit_values import Element, Look, Source


@dataclass(frozen=True)
class Point:
    """The end of a column at a net that stands elsewhere: its name is written at both places."""

    net: str


@dataclass(frozen=True)
class Foot:
    """The end of a column at a lower net of its source."""

    net: str


@dataclass(frozen=True)
class Edge:
    """The end of a column at a terminal on the edge of a part."""

    net: str
    terminal: str


@dataclass(frozen=True)
class Fork:
    """A net and what hangs below it."""

    net: str
    limbs: tuple[Limb, ...]

    @property
    def width(self) -> int:
        """Columns it takes."""
        return max(1, sum(limb.width for limb in self.limbs))


@dataclass(frozen=True)
class Limb:
    """A block, or a plain line, and what stands at its foot."""

    block: Block | None
    end: Fork | Point | Foot | Edge

    @property
    def width(self) -> int:
        """Columns it takes."""
        below = self.end.width if isinstance(self.end, Fork) else 1
        return max(self.block.width if self.block else 1, below)


@dataclass
class _Growth:
    """What was found so far: the way out of each net, and the nets that stand somewhere."""

    blocks: list[Block]
    loads: list[Element]
    standing: set[str]
    ways: dict[str, list[tuple[Block, str]]] = field(default_factory=dict)


def grow(sources: tuple[Source, ...], elements: Iterable[Element]) -> tuple[tuple[Fork, ...], ...]:
    """Return for each source its upper nets with what hangs below them.

    Contacts are followed before loads, so that a load hangs where its line comes from. What no
    source feeds is in none of them; a limb that leads nowhere is left out.
    """
    every = tuple(elements)
    loads = [e for e in every if e.look is Look.LOAD]
    fixed = {net for source in sources for net in (*source.upper, *source.lower)}
    kept = fixed | {net for load in loads for net in (load.a, load.b)}
    blocks = joined((e for e in every if e.look is not Look.LOAD), kept)
    growth = _Growth(list(blocks), loads, set(fixed))
    for source in sources:
        _grow_from(growth, source)
    pruned = _Pruned(growth)
    return tuple(tuple(pruned.fork(net, source) for net in source.upper) for source in sources)


def _grow_from(growth: _Growth, source: Source) -> None:
    fresh = [net for net in source.upper if net not in growth.ways]
    reached = list(fresh)
    while fresh:
        reached += _follow_contacts(growth, fresh, source)
        fresh = _follow_load(growth, reached)
        reached += fresh


def _follow_contacts(growth: _Growth, nets: list[str], source: Source) -> list[str]:
    """Follow contacts as far as they go, nearest nets first, and return the nets reached."""
    waiting, reached = deque(nets), list[str]()
    while waiting:
        net = waiting.popleft()
        ways = growth.ways.setdefault(net, [])
        for block in [b for b in growth.blocks if net in (b.a, b.b)]:
            growth.blocks.remove(block)
            far = block.b if block.a == net else block.a
            ways.append((from_net(block, net), far))
            if far not in growth.standing:
                growth.standing.add(far)
                waiting.append(far)
                reached.append(far)
    return reached


def _follow_load(growth: _Growth, reached: list[str]) -> list[str]:
    """Hang up loads until one leads to a net that stands nowhere yet."""
    for net in reached:
        for load in [x for x in growth.loads if net in (x.a, x.b)]:
            growth.loads.remove(load)
            far = load.b if load.a == net else load.a
            growth.ways[net].append((from_net(load, net), far))
            if far not in growth.standing:
                growth.standing.add(far)
                return [far]
    return []


class _Pruned:
    """The trees without limbs that lead nowhere and that no point names."""

    def __init__(self, growth: _Growth) -> None:
        first: dict[str, int] = {}
        for ways in growth.ways.values():
            for block, far in ways:
                first.setdefault(far, id(block))
        self.ways, self.first = growth.ways, first

    def fork(self, net: str, source: Source) -> Fork:
        """Return a net with its limbs."""
        limbs = (self._limb(block, far, source) for block, far in self.ways.get(net, ()))
        return Fork(net, tuple(limb for limb in limbs if limb))

    def _limb(self, block: Block, far: str, source: Source) -> Limb | None:
        if far in source.lower:
            return Limb(block, Foot(far))
        if far not in self.ways or self.first[far] != id(block) or far in source.upper:
            return Limb(block, Point(far))
        below = self.fork(far, source)
        return Limb(block, below) if below.limbs or far in self._pointed() else None

    def _pointed(self) -> set[str]:
        return {far for ways in self.ways.values() for block, far in ways
                if self.first[far] != id(block)}
