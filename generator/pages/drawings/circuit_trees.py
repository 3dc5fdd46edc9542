"""What hangs below each source: every net once, under the net that feeds it, loads last."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from generator.pages.drawings.circuit_blocks import Block, from_net, joined
from generator.pages.drawings.circuit_limbs import Edge, Foot, Fork, Limb, Point
from generator.pages.drawings.circuit_values import Element, Look, Source


@dataclass(frozen=True)
class _Way:
    """A block that leads from a net to another, which hangs below it if it stood nowhere yet."""

    block: Block
    far: str
    fresh: bool


@dataclass
class _Growth:
    """What was found so far: the ways out of each net, and the nets that stand somewhere."""

    blocks: list[Block]
    loads: list[Element]
    standing: set[str]
    ways: dict[str, list[_Way]] = field(default_factory=dict)

    def lead(self, net: str, block: Block) -> _Way:
        """Hang a block below a net."""
        far = block.b if block.a == net else block.a
        way = _Way(from_net(block, net), far, far not in self.standing)
        self.standing.add(far)
        self.ways[net].append(way)
        return way


def grow(
    sources: tuple[Source, ...], elements: Iterable[Element], edges: Mapping[str, tuple[str, ...]]
) -> tuple[tuple[Fork, ...], ...]:
    """Return for each source its upper nets with what hangs below them.

    Contacts are followed before loads, so that a load hangs where its line comes from. What no
    source feeds is in none of them; a limb that leads nowhere is left out, save to a net in
    `edges`, which holds for each net the terminals that end at the edge of the drawing.
    """
    every = tuple(elements)
    loads = [e for e in every if e.look is Look.LOAD and e.a != e.b]
    fixed = {net for source in sources for net in (*source.upper, *source.lower)}
    kept = fixed | set(edges) | {net for load in loads for net in (load.a, load.b)}
    blocks = joined((e for e in every if e.look is not Look.LOAD), kept)
    growth = _Growth(list(blocks), loads, fixed)
    for source in sources:
        _grow_from(growth, source)
    pruned = _Pruned(growth.ways, edges)
    return tuple(_roots(pruned, source, sources[:i]) for i, source in enumerate(sources))


def _roots(pruned: _Pruned, source: Source, before: tuple[Source, ...]) -> tuple[Fork, ...]:
    """Return the upper nets of a source; what hangs on a net of two sources, only once."""
    taken = {net for each in before for net in each.upper}
    return tuple(Fork(net, ()) if net in taken else pruned.root(net, source)
                 for net in source.upper)


def _grow_from(growth: _Growth, source: Source) -> None:
    fresh = [net for net in source.upper if net not in growth.ways]
    reached = list(fresh)
    while fresh:
        reached += _follow_contacts(growth, fresh)
        fresh = _follow_load(growth, reached)
        reached += fresh


def _follow_contacts(growth: _Growth, nets: list[str]) -> list[str]:
    """Follow contacts as far as they go, nearest nets first, and return the nets reached."""
    waiting, reached = deque(nets), list[str]()
    while waiting:
        net = waiting.popleft()
        growth.ways.setdefault(net, [])
        for block in [b for b in growth.blocks if net in (b.a, b.b)]:
            growth.blocks.remove(block)
            way = growth.lead(net, block)
            waiting += [way.far] * way.fresh
            reached += [way.far] * way.fresh
    return reached


def _follow_load(growth: _Growth, reached: list[str]) -> list[str]:
    """Hang up loads until one leads to a net that stands nowhere yet."""
    for net in reached:
        for load in [x for x in growth.loads if net in (x.a, x.b)]:
            growth.loads.remove(load)
            way = growth.lead(net, load)
            if way.fresh:
                return [way.far]
    return []


class _Pruned:
    """The trees without limbs that lead nowhere and that no point names."""

    def __init__(
        self, ways: Mapping[str, list[_Way]], edges: Mapping[str, tuple[str, ...]]
    ) -> None:
        self.ways, self.edges = ways, edges
        self.pointed = {way.far for each in ways.values() for way in each if not way.fresh}

    def root(self, net: str, source: Source) -> Fork:
        """Return an upper net with its limbs; its first terminal stands above it."""
        return self._fork(net, source, self.edges.get(net, ())[1:])

    def _fork(self, net: str, source: Source, edge: tuple[str, ...]) -> Fork:
        limbs = (self._limb(way, source) for way in self.ways.get(net, ()))
        ends = (Limb(None, Edge(net, terminal)) for terminal in edge)
        return Fork(net, (*(limb for limb in limbs if limb), *ends))

    def _limb(self, way: _Way, source: Source) -> Limb | None:
        if way.far in source.lower:
            return Limb(way.block, Foot(way.far))
        if not way.fresh:
            return Limb(way.block, Point(way.far))
        below = self._fork(way.far, source, self.edges.get(way.far, ()))
        kept = below.limbs or way.far in self.pointed or way.far in self.edges
        return Limb(way.block, below) if kept else None
