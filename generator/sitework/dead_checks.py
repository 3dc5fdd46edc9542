"""Checks before the supply comes back: what must be joined, what must not, what is looked at."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import combinations

from generator.checks.subject import Subject
from generator.circuit.flat import Load, part_of
from generator.circuit.path import find_path
from generator.circuit.tables import Table, states

VOLTS = 230.0


@dataclass(frozen=True)
class Joined:
    """Terminals of one net: continuity from the first to each of the others."""

    does: str
    terminals: tuple[str, ...]
    earth: bool


@dataclass(frozen=True)
class Apart:
    """Two terminals that must not be joined, and what an ohmmeter may show between them instead."""

    a: str
    b: str
    why: str
    shows: str


@dataclass(frozen=True)
class Inspection:
    """A part that is looked at with its cover off, and what for."""

    part: str
    looks: tuple[str, ...]


def joined(subject: Subject, opened: Collection[str]) -> tuple[Joined, ...]:
    """Return every net with two or more terminals that a person reaches, a strip's first.

    Only at opened parts; not in a head whose flex is fitted, nor where nothing lands.
    """
    groups = (tuple(t for t in net if _in_reach(subject, t, opened))
              for net in subject.potentials.nets.terminals())
    return tuple(_net(subject, _strip_first(subject, group)) for group in groups if len(group) > 1)


def strip_nets(subject: Subject) -> tuple[Joined, ...]:
    """Return every net that can be reached at a terminal strip, by the terminals there."""
    strips = {name for name, part in subject.wall.parts.items() if part.part.letter == "X"}
    groups = (tuple(t for t in net if part_of(t) in strips and subject.landed(t))
              for net in subject.potentials.nets.terminals())
    return tuple(_net(subject, group) for group in groups if group)


def _net(subject: Subject, terminals: tuple[str, ...]) -> Joined:
    earth = subject.potentials.at(subject.potentials.earth, terminals[0])
    return Joined(does(subject, terminals[0]), terminals, bool(earth))


def apart(subject: Subject) -> tuple[Apart, ...]:
    """Return the pairs at the strip that no setting joins while everything is isolated.

    One terminal stands for each net. A pair that a thermostat joins or not is left out: it is tried
    with the thermostat.
    """
    return tuple(_apart(subject, a, b) for a, b in combinations(strip_nets(subject), 2)
                 if not _ever_joined(subject, a.terminals[0], b.terminals[0]))


def inspections(subject: Subject, opened: Collection[str]) -> tuple[Inspection, ...]:
    """Return what is looked at in each opened part before its cover goes on."""
    return tuple(Inspection(f"-{p.designation} {p.called}", p.part.inspect)
                 for p in subject.wall.parts.values()
                 if p.part.inspect and p.designation in opened)


def _at_rest(subject: Subject) -> Table:
    """Return the states with everything isolated, nothing calling, no position moved."""
    space, table = subject.potentials.space, subject.potentials.space.full
    for v, variable in enumerate(subject.circuit.variables):
        if variable.kind != "temperature":
            table &= space.where(v, False)
    return table


def _ever_joined(subject: Subject, a: str, b: str) -> bool:
    return any(find_path(subject.circuit, state, (a,), b) for state in states(_at_rest(subject)))


def _apart(subject: Subject, a: Joined, b: Joined) -> Apart:
    start, end = a.terminals[0], b.terminals[0]
    return Apart(start, end, f"{a.does} and {b.does}", _shows(subject, start, end))


def _shows(subject: Subject, a: str, b: str) -> str:
    """Return what an ohmmeter sees between two terminals while everything is at rest."""
    paths = (find_path(subject.circuit, state, (a,), b, through_loads=True)
             for state in states(_at_rest(subject)))
    ways = [[step.through for step in path.steps if isinstance(step.through, Load)]
            for path in paths if path]
    if not ways:
        return "open"
    if not all(load.linear for way in ways for load in way):
        return "electronics between them: no low resistance"
    kilohms = min(sum(VOLTS**2 / load.watts for load in way) for way in ways) / 1000
    kinds = dict.fromkeys(load.kind for way in ways for load in way)
    return f"{' and '.join(kinds)} between them: some {kilohms:.0f} kΩ, no low resistance"


def does(subject: Subject, terminal: str) -> str:
    """Return what most conductors of a terminal's net say that they do."""
    net = subject.potentials.nets.of[terminal]
    said = [c.does for c in subject.circuit.conductors
            if c.does and subject.potentials.nets.of[c.a] == net]
    return max(dict.fromkeys(said), key=said.count) if said else terminal


def _strip_first(subject: Subject, group: tuple[str, ...]) -> tuple[str, ...]:
    strips = {name for name, part in subject.wall.parts.items() if part.part.letter == "X"}
    return tuple(sorted(group, key=lambda t: part_of(t) not in strips))


def _in_reach(subject: Subject, terminal: str, opened: Collection[str]) -> bool:
    part, _, name = terminal.partition(":")
    fitted_flex = subject.wall.parts[part].part.terminals[name].tail is not None
    return part in opened and not fitted_flex and bool(subject.landed(terminal))
