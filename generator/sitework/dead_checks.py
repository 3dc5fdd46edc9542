"""Checks before the supply comes back: which terminals must be joined, and which must not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from generator.checks.subject import Subject


@dataclass(frozen=True)
class Joined:
    """Terminals of one net: continuity from the first to each of the others."""

    does: str
    terminals: tuple[str, ...]


@dataclass(frozen=True)
class Apart:
    """Two terminals between which there must be no continuity."""

    a: str
    b: str
    why: str


def joined(subject: Subject) -> tuple[Joined, ...]:
    """Return every net with two or more terminals that a person can reach, widest first met."""
    groups = (tuple(t for t in net if _in_reach(subject, t))
              for net in subject.potentials.nets.terminals())
    return tuple(Joined(_does(subject, group[0]), _spine_first(subject, group))
                 for group in groups if len(group) > 1)


def apart(subject: Subject) -> tuple[Apart, ...]:
    """Return the pairs that must not be joined: line, neutral and earth, and each switched line.

    One terminal stands for each net; controls at rest, so that no contact joins two of them.
    """
    return tuple(_apart(subject))


def _apart(subject: Subject) -> Iterator[Apart]:
    nets = joined(subject)
    zeros = {"neutral", "earth"}
    for a, b in combinations(nets, 2):
        kinds = {_kind(subject, a.terminals[0]), _kind(subject, b.terminals[0])}
        if "earth" in kinds or (kinds & zeros and kinds - zeros):
            yield Apart(a.terminals[0], b.terminals[0], f"{a.does} and {b.does}")


def _kind(subject: Subject, terminal: str) -> str:
    potentials = subject.potentials
    if potentials.at(potentials.earth, terminal):
        return "earth"
    return "neutral" if potentials.at(potentials.neutral, terminal) else "line"


def _does(subject: Subject, terminal: str) -> str:
    """Return what most conductors of a terminal's net say that they do."""
    net = subject.potentials.nets.of[terminal]
    said = [c.does for c in subject.circuit.conductors
            if c.does and subject.potentials.nets.of[c.a] == net]
    return max(dict.fromkeys(said), key=said.count) if said else terminal


def _spine_first(subject: Subject, group: tuple[str, ...]) -> tuple[str, ...]:
    strips = {name for name, part in subject.wall.parts.items() if part.part.letter == "X"}
    return tuple(sorted(group, key=lambda t: t.partition(":")[0] not in strips))


def _in_reach(subject: Subject, terminal: str) -> bool:
    part, _, name = terminal.partition(":")
    return subject.wall.parts[part].part.terminals[name].tail is None and any(
        terminal in (c.a, c.b) for c in subject.circuit.conductors if c.kind != "joint")
