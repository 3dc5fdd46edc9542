"""Before the supply comes back: the nets of a strip, what they do, and what is looked at."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.recipe.wall import Mounted
from generator.sitework.signs import ways


@dataclass(frozen=True)
class Joined:
    """Terminals of one net, and what it does."""

    does: str
    terminals: tuple[str, ...]
    earth: bool


@dataclass(frozen=True)
class Inspection:
    """A part that is looked at with its cover off, and what for."""

    part: str
    looks: tuple[str, ...]


def strip_nets(subject: Subject) -> tuple[Joined, ...]:
    """Return every net that is read at a strip, or without one where it is read instead."""
    reached = set(ways(subject))
    groups = (tuple(t for t in net if t in reached)
              for net in subject.potentials.nets.terminals())
    return tuple(_net(subject, group) for group in groups if group)


def _net(subject: Subject, terminals: tuple[str, ...]) -> Joined:
    earth = subject.potentials.at(subject.potentials.earth, terminals[0])
    return Joined(does(subject, terminals[0]), terminals, bool(earth))


def inspections(subject: Subject, opened: Collection[str]) -> tuple[Inspection, ...]:
    """Return what is looked at in each opened part before its cover goes on."""
    return tuple(Inspection(f"-{p.designation} {p.called}", looked)
                 for p in subject.wall.parts.values()
                 if (looked := (*p.part.inspect, *_caps(p))) and p.designation in opened)


def _caps(part: Mounted) -> Iterator[str]:
    for name in part.placed.capped:
        yield f"-{part.designation}:{name} carries no core and is capped; it may be live later."


def does(subject: Subject, terminal: str) -> str:
    """Return what most conductors of a terminal's net say that they do."""
    net = subject.potentials.nets.of[terminal]
    said = [c.does for c in subject.circuit.conductors
            if c.does and subject.potentials.nets.of[c.a] == net]
    return max(dict.fromkeys(said), key=said.count) if said else terminal
