"""Tests with the supply on: set this, wait, see this, read this; all of it from the model."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from generator.checks.subject import JobSubject, Subject
from generator.circuit.flat import part_of
from generator.circuit.path import find_path
from generator.circuit.reading import reading
from generator.recipe.schema import Expected
from generator.sitework.dead_checks import strip_nets

SUPPLYING = ("isolator", "fuse")
"""Kinds of switch that are worked, on or fitted, while the system is in use."""


@dataclass(frozen=True)
class Setting:
    """One switch to set: its part, what people call both, the word to set it to, and how."""

    part: str
    switch: str
    word: str
    how: str


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


@dataclass(frozen=True)
class LiveTest:
    """One setting of the controls with everything that must be seen and read."""

    name: str
    safety: bool
    isolated: bool
    settings: tuple[Setting, ...]
    wait: tuple[str, ...]
    seen: tuple[tuple[str, str], ...]
    readings: tuple[Expectation, ...]
    traced: tuple[Traced, ...]


def live_tests(job: JobSubject) -> tuple[LiveTest, ...]:
    """Return a test for each case the author wants tried, with what the model predicts for it.

    How a switch is set is said only where its word changes from one test to the next.
    """
    cases = [case for case in job.job.conversion.expect if case.tried]
    before = [_starting_words(job.fitted)]
    for case in cases:
        before.append(before[-1] | case.when)
    return tuple(map(partial(_test, job.fitted), cases, before))


def _starting_words(subject: Subject) -> dict[str, str]:
    """Return how switches stand when the supply comes on: isolators on, the rest at rest."""
    return {variable.name: variable.words[variable.kind in SUPPLYING]
            for variable in subject.circuit.variables}


def _test(subject: Subject, expected: Expected, before: dict[str, str]) -> LiveTest:
    state = settled_state(subject, expected.when)
    return LiveTest(
        expected.name, expected.safety, _isolated(subject, state),
        tuple(_setting(subject, name, word, word != before[name])
              for name, word in _isolators_last(subject, expected)),
        tuple(_waits(subject, state)), tuple(_seen(subject, state)),
        tuple(_readings(subject, state)), tuple(_traced(subject, state)))


def _isolated(subject: Subject, state: int) -> bool:
    """Return whether a supply is made dead in a state, so that its neutral is no reference."""
    return any(subject.potentials.condition(((v, value),)) >> state & 1
               for supply in subject.circuit.supplies for v, value in supply.isolated)


def _isolators_last(subject: Subject, expected: Expected) -> list[tuple[str, str]]:
    """Return the settings in an order that works: what needs power is set while there is some."""
    kinds = {variable.name: variable.kind for variable in subject.circuit.variables}
    return sorted(expected.when.items(), key=lambda item: kinds[item[0]] in SUPPLYING)


def settled_state(subject: Subject, when: dict[str, str]) -> int:
    """Return the state a setting settles in: isolators on, fuses in, the rest at rest.

    Raises KeyError for a switch that is not there, RuntimeError where nothing settles.
    """
    circuit, state = subject.circuit, 0
    for v, variable in enumerate(circuit.variables):
        worked = variable.kind in SUPPLYING
        if variable.name in when:
            worked = variable.words[1] == when[variable.name]
        state |= worked << v
    return subject.motion.settle(state)


def _setting(subject: Subject, name: str, word: str, changes: bool) -> Setting:
    part, _, switch = name.partition(".")
    mounted = subject.wall.parts[part]
    shape = mounted.part.switches[switch]
    how = shape.how if word == shape.worked else shape.how_back
    return Setting(f"-{part} {mounted.called}", shape.says or switch, word, how if changes else "")


def _waits(subject: Subject, state: int) -> Iterator[str]:
    for device in subject.circuit.devices:
        variable = subject.circuit.variables[device.variable]
        part, _, name = variable.name.partition(".")
        position = subject.wall.parts[part].part.positions[name]
        if state >> device.variable & 1:
            yield f"-{part} takes {position.opens_in} to be {position.worked}"
        else:
            yield f"-{part} takes {position.shuts_in} to be {position.rest}"


def _seen(subject: Subject, state: int) -> Iterator[tuple[str, str]]:
    for device in subject.circuit.devices:
        variable = subject.circuit.variables[device.variable]
        part = variable.part
        yield (f"-{part} {subject.wall.parts[part].called}",
               variable.words[state >> device.variable & 1])
    for source in subject.circuit.heat_sources:
        part, _, word = source.name.partition(".")
        fires = subject.potentials.fires(source)
        if not fires & subject.reachable:
            continue
        yield f"-{part} {word}", "on" if fires >> state & 1 else "off"


def _readings(subject: Subject, state: int) -> Iterator[Expectation]:
    """Yield a reading for every net at the strip, to neutral; to earth where neutral is cut off.

    A neutral that is switched off with the line is no reference: a second supply would not show.
    """
    potentials, nets = subject.potentials, strip_nets(subject)
    earths = [n for n in nets if potentials.at(potentials.earth, n.terminals[0])]
    neutrals = [n for n in nets if potentials.at(potentials.neutral, n.terminals[0]) >> state & 1]
    reference = next(iter(neutrals or earths), None)
    for net in nets:
        if reference and net not in (*neutrals, *earths):
            shown = reading(potentials, state, net.terminals[0], reference.terminals[0])
            yield Expectation(net.terminals[0], reference.terminals[0], net.does, shown.words)


def _traced(subject: Subject, state: int) -> Iterator[Traced]:
    """Yield the way from the supply to every load that runs, electronics left out."""
    for load in subject.circuit.loads:
        if load.kind == "electronics" or not subject.potentials.runs(load) >> state & 1:
            continue
        path = find_path(subject.circuit, state, subject.lines(), load.a)
        if path and (stages := _stages(subject, path.terminals)):
            yield Traced(f"{_called(subject, load.name)}: {load.says or load.kind}", stages)


def _stages(subject: Subject, terminals: tuple[str, ...]) -> tuple[Stage, ...]:
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
