"""Nets of a circuit drawing: what is written on a line, and its name where it goes on elsewhere."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from generator.checks.subject import Subject
from generator.pages.drawings.circuit_values import Feed, Net, Source
from generator.pages.wording import terminal


def net_key(subject: Subject, name: str) -> str:
    """Return the net of a terminal, called after its first terminal."""
    nets = subject.potentials.nets
    return nets.terminals()[nets.of[name]][0]


def drawn_nets(subject: Subject, sources: tuple[Source, ...]) -> dict[str, Net]:
    """Return every net by its key, with the terminals at which boxes hold it."""
    strips = {name for name, part in subject.wall.parts.items() if part.part.letter == "X"}
    boxed = {f"-{group[0].partition(':')[0]}": group for group in subject.circuit.closed}
    boxed |= {f"input-{x.name}": (x.a, x.b) for x in subject.circuit.loads if x.volt_free}
    edges: dict[str, tuple[str, ...]] = {}
    for source in sources:
        if source.feed is not Feed.SUPPLY:
            held = boxed[source.key]
            edges |= {net: _names(subject, net, held) for net in source.upper + source.lower}
    return {group[0]: _net(group, strips, edges.get(group[0], ()))
            for group in subject.potentials.nets.terminals() if group}


def _names(subject: Subject, net: str, held: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(t.partition(":")[2] for t in held if net_key(subject, t) == net)


def _net(terminals: tuple[str, ...], strips: set[str], edge: tuple[str, ...]) -> Net:
    written = _ways(t for t in terminals if t.partition(":")[0] in strips)
    words = "joined: " + ", ".join(terminal(t) for t in terminals)
    return Net(written, written or terminal(terminals[0]), words, edge)


def _ways(terminals: Iterable[str]) -> str:
    """Return the ways of terminal strips in short: `-X1:5, 6`."""
    split = [t.partition(":")[::2] for t in terminals]
    return "; ".join(
        f"{terminal(strip)}:{', '.join(way for _, way in ways)}"
        for strip, ways in groupby(split, key=lambda each: each[0]))
