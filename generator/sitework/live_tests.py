"""Tests with the supply on: set this, wait, see this, read this; all of it from the model."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.subject import JobSubject, Subject
from generator.circuit.path import find_path
from generator.circuit.reading import reading
from generator.recipe.schema import Expected
from generator.sitework.dead_checks import joined


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
class Traced:
    """What should run in a test, and the terminals on its way, first to last, all at 230 V."""

    what: str
    terminals: tuple[str, ...]


@dataclass(frozen=True)
class LiveTest:
    """One setting of the controls with everything that must be seen and read."""

    name: str
    safety: bool
    settings: tuple[Setting, ...]
    wait: tuple[str, ...]
    seen: tuple[tuple[str, str], ...]
    readings: tuple[Expectation, ...]
    traced: tuple[Traced, ...]


def live_tests(job: JobSubject) -> tuple[LiveTest, ...]:
    """Return a test for each case the author wants tried, with what the model predicts for it."""
    return tuple(_test(job.fitted, case) for case in job.job.conversion.expect if case.tried)


def _test(subject: Subject, expected: Expected) -> LiveTest:
    state = settled_state(subject, expected.when)
    return LiveTest(
        expected.name, expected.safety,
        tuple(_setting(subject, name, word) for name, word in expected.when.items()),
        tuple(_waits(subject, state)), tuple(_seen(subject, state)),
        tuple(_readings(subject, state)), tuple(_traced(subject, state)))


def settled_state(subject: Subject, when: dict[str, str]) -> int:
    """Return the state a setting settles in: isolators on, fuses in, the rest at rest.

    Raises KeyError for a switch that is not there, RuntimeError where nothing settles.
    """
    circuit, state = subject.circuit, 0
    for v, variable in enumerate(circuit.variables):
        worked = variable.kind in ("isolator", "fuse")
        if variable.name in when:
            worked = variable.words[1] == when[variable.name]
        state |= worked << v
    return subject.motion.settle(state)


def _setting(subject: Subject, name: str, word: str) -> Setting:
    part, _, switch = name.partition(".")
    mounted = subject.wall.parts[part]
    shape = mounted.part.switches[switch]
    how = shape.how if word == shape.worked else ""
    return Setting(f"-{part} {mounted.called}", shape.says or switch, word, how)


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
        part = variable.name.partition(".")[0]
        yield (f"-{part} {subject.wall.parts[part].called}",
               variable.words[state >> device.variable & 1])
    for source in subject.circuit.heat_sources:
        part, _, word = source.name.partition(".")
        fires = subject.potentials.fires(source)
        if not fires & subject.reachable:
            continue
        yield f"-{part} {word}", "on" if fires >> state & 1 else "off"


def _readings(subject: Subject, state: int) -> Iterator[Expectation]:
    """Yield a reading for every net but neutral and earth, at a terminal a person can reach."""
    nets = joined(subject)
    potentials = subject.potentials
    neutrals = [net for net in nets if potentials.at(potentials.neutral, net.terminals[0])]
    for net in nets:
        terminal = net.terminals[0]
        if neutrals and net not in neutrals and not potentials.at(potentials.earth, terminal):
            against = neutrals[0].terminals[0]
            shown = reading(potentials, state, terminal, against)
            yield Expectation(terminal, against, net.does, shown.words)


def _traced(subject: Subject, state: int) -> Iterator[Traced]:
    """Yield the way from the supply to every load that runs, electronics left out."""
    for load in subject.circuit.loads:
        if load.kind == "electronics" or not subject.potentials.runs(load) >> state & 1:
            continue
        path = find_path(subject.circuit, state, subject.lines(), load.a)
        part = load.name.partition(".")[0]
        if path:
            yield Traced(f"-{part} {subject.wall.parts[part].called}: {load.says or load.kind}",
                         path.terminals)
