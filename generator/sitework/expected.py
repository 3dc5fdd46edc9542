"""What a tester shows in a test with the supply on, and the way through the strip to each load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.elements import part_of
from generator.circuit.path import find_path
from generator.circuit.reading import reading
from generator.sitework.dead_checks import Joined, does, strip_nets


@dataclass(frozen=True)
class Expectation:
    """What a two-pole tester shows between a terminal and neutral."""

    terminal: str
    against: str
    says: str
    volts: str


@dataclass(frozen=True)
class Stage:
    """A terminal of the strip on the way to a load, and the parts that come after it."""

    terminal: str
    then: tuple[str, ...]


@dataclass(frozen=True)
class Traced:
    """What should run in a test, and its way from terminal to terminal, all at 230 V."""

    what: str
    stages: tuple[Stage, ...]


def is_isolated(subject: Subject, state: int) -> bool:
    """Return whether a supply is made dead in a state, so that its neutral is no reference."""
    return any(subject.potentials.condition(((v, value),)) >> state & 1
               for supply in subject.circuit.supplies for v, value in supply.isolated)


def neutrals(subject: Subject, state: int) -> list[Joined]:
    """Return the nets of the strip that are neutral in a state; none where neutral is cut off."""
    potentials = subject.potentials
    return [n for n in strip_nets(subject)
            if potentials.at(potentials.neutral, n.terminals[0]) >> state & 1]


def readings(subject: Subject, state: int) -> Iterator[Expectation]:
    """Yield a reading for every net at the strip, to neutral; to earth where neutral is cut off.

    A neutral that is switched off with the line is no reference: a second supply would not show.
    A volt-free pair is not read: what stands on it is its maker's affair, and may be mains.
    """
    potentials, nets = subject.potentials, strip_nets(subject)
    pairs = {potentials.nets.of[end] for load in subject.pairs() for end in (load.a, load.b)}
    earths = [n for n in nets if potentials.at(potentials.earth, n.terminals[0])]
    neutral = neutrals(subject, state)
    reference = next(iter(neutral or earths), None)
    for net in nets:
        paired = potentials.nets.of[net.terminals[0]] in pairs
        if reference and not paired and net not in (*neutral, *earths):
            yield expectation(subject, state, net.terminals[0], reference.terminals[0])


def expectation(subject: Subject, state: int, terminal: str, against: str) -> Expectation:
    shown = reading(subject.potentials, state, terminal, against)
    return Expectation(terminal, against, does(subject, terminal), shown.words)


def traced(subject: Subject, state: int) -> Iterator[Traced]:
    """Yield the way from the supply to every load that runs, electronics left out."""
    for load in subject.circuit.loads:
        if load.kind == "electronics" or not subject.potentials.runs(load) >> state & 1:
            continue
        path = find_path(subject.circuit, state, subject.lines(), load.a)
        if path and (stages := stages_of(subject, path.terminals)):
            yield Traced(f"{_called(subject, load.name)}: {load.says or load.kind}", stages)


def stages_of(subject: Subject, terminals: tuple[str, ...]) -> tuple[Stage, ...]:
    """Return the strip's terminals on a way, each with the parts passed before the next one.

    Only at the strip is anything read live: what lies in a head or under a cover is found by
    continuity, dead.
    """
    stages: list[tuple[str, list[str]]] = []
    for terminal in terminals:
        if subject.wall.parts[part_of(terminal)].part.letter == "X":
            stages.append((terminal, []))
        elif stages:
            stages[-1][1].append(_called(subject, terminal))
    return tuple(Stage(terminal, tuple(dict.fromkeys(then))) for terminal, then in stages)


def _called(subject: Subject, name: str) -> str:
    """Return the part that a terminal or load belongs to, with what people call it."""
    part = part_of(name)
    return f"-{part} {subject.wall.parts[part].called}"
