"""A circuit that settles in two ways under the same settings: a device holds itself in, a latch."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor, Load
from generator.circuit.flat import without
from generator.circuit.moves import move
from generator.circuit.potentials import solve
from generator.circuit.tables import Cube, Table
from generator.findings import Finding, Severity
from generator.recipe.moving import names


def judge(subject: Subject) -> Verdict:
    """Ask of every setting of the switches whether each device settles in one position only.

    Not of a valve that holds by its making: a mid-position valve, or one motor-driven both ways.
    """
    devices = [device.variable for device in subject.circuit.devices
               if not _holds(subject, device.variable)]
    return verdict(len(devices) * count(subject.settled), "devices in settled states",
                   _latches(subject, devices))


def _holds(subject: Subject, variable: int) -> bool:
    """Tell whether a position of the part has a say in what moves it itself."""
    part, variables = subject.circuit.variables[variable].part, subject.circuit.variables
    return any(variables[device.variable].name in names(device.wish)
               for device in subject.circuit.devices if variables[device.variable].part == part)


def _latches(subject: Subject, devices: list[int]) -> Iterator[Finding]:
    for variable, held in subject.motion.memories():
        if variable in devices:
            yield _latch(subject, variable, held)


def _latch(subject: Subject, variable: int, held: Table) -> Finding:
    named, space = subject.circuit.variables[variable], subject.potentials.space
    worked = subject.earliest(held)
    settings = _settings(subject, worked)
    free = subject.settled & space.cube_table(settings) & space.where(variable, False)
    device = next(d for d in subject.circuit.devices if d.variable == variable)
    load = subject.circuit.load[device.loads[0]]
    places, _, path = subject.feeding(1 << worked, held, load)
    back = (core.place.noted(note(core)) for core in _feeding_back(subject, variable, load, path))
    ends = ((named.words[1], worked), (named.words[0], subject.earliest(free)))
    return Finding(
        RULE.name, RULE.severity,
        f"`{named.name}` holds itself: it settles {named.words[1]} or {named.words[0]} under the "
        "same settings.", tuple(dict.fromkeys((*back, *places))),
        found="; ".join(f"{word} after {_story(subject, state)}" for word, state in ends),
        expected="one end position for each setting of the switches",
        hint="take out the core or link through which the device feeds itself",
        state=subject.circuit.words(settings), path=path)


def _feeding_back(
    subject: Subject, variable: int, load: Load, path: tuple[str, ...]
) -> Iterator[Conductor]:
    """Yield the cores and links, back from the load, without which it runs and nothing holds."""
    for core in reversed(subject.along(path)):
        rest = solve(without(subject.circuit, core))
        if rest.runs(load) and variable not in dict(move(rest).memories()):
            yield core


def _settings(subject: Subject, state: int) -> Cube:
    return tuple(pair for pair in subject.potentials.space.state_cube(state)
                 if not subject.circuit.variables[pair[0]].moves)


def _story(subject: Subject, state: int) -> str:
    return subject.told(subject.motion.story(state)) or "nothing was touched"


RULE = Rule(
    "circuit-remembers",
    "Circuit remembers what was",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "heating that can only be stopped by isolating it is out of control; "
                              "an orange core joined to brown latches its zone on"),
    ),
    judge,
)
