"""A boiler that runs its pump on after firing, and what switching off under it means for a test."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.subject import Subject
from generator.circuit.elements import Device, part_of
from generator.sitework.dead_checks import strip_nets

AT_ONCE = "at once"
"""What a part states where nothing has to be waited for."""
ENDED = "every call off and the overrun ended"
"""What comes before a supply is switched off: a hot boiler is not left without flow."""
RUNS_ON = "The last call ends while the burner burns, and the pump runs on"
"""The test of an overrun: nothing else shows that the heat is carried away."""
FLOW = "By-pass cold, or the limiter trips: isolate, and the by-pass comes first."
BRIEF = "This cuts the overrun: off only as long as the readings take, then on again."


def overruns(subject: Subject) -> tuple[Device, ...]:
    """Return the positions of boilers that keep a pump outside running for a while."""
    return tuple(device for device in subject.circuit.devices if _runs_on(subject, device))


def _runs_on(subject: Subject, device: Device) -> bool:
    part, _, name = subject.circuit.variables[device.variable].name.partition(".")
    mounted, net = subject.wall.parts[part].part, subject.potentials.nets.of
    pumps = {net[load.a] for load in subject.circuit.loads if load.kind == "pump"}
    return bool(mounted.heat) and mounted.positions[name].shuts_in != AT_ONCE and any(
        net[contact.b] in pumps for contact in subject.circuit.contacts
        if contact.part == part and device.variable in dict(contact.when))


def called_over(subject: Subject) -> tuple[str, ...]:
    """Return the ways of the strip over which a boiler with an overrun is called."""
    net = subject.potentials.nets.of
    parts = {part_of(subject.circuit.variables[each.variable].name) for each in overruns(subject)}
    over = {net[load.a] for load in subject.circuit.loads
            if load.part in parts and load.kind == "call input"}
    return tuple(each.terminals[0] for each in strip_nets(subject)
                 if net[each.terminals[0]] in over)


def neutral_way(subject: Subject) -> str:
    """Return the way of the strip that is read against; none where no neutral comes to it."""
    return next((each.terminals[0] for each in strip_nets(subject)
                 if subject.potentials.at(subject.potentials.neutral, each.terminals[0])), "")


def ends_of_overrun(subject: Subject) -> Iterator[tuple[str, str]]:
    """Yield what is seen while a pump runs on, and after the time its boiler states."""
    yield "The open way round, or by-pass", "gets warm"
    for device in overruns(subject):
        part, _, name = subject.circuit.variables[device.variable].name.partition(".")
        after = subject.wall.parts[part].part.positions[name].shuts_in
        yield f"Then the pump of -{part}", f"stops after {after}"


def without_power(subject: Subject, device: Device, state: int) -> bool:
    """Return whether a boiler has no supply in a state: nothing in it runs on then."""
    part = part_of(subject.circuit.variables[device.variable].name)
    kept = [load for load in subject.circuit.loads
            if load.part == part and load.kind == "electronics"]
    return bool(subject.wall.parts[part].part.heat) and bool(kept) and not any(
        subject.potentials.runs(load) >> state & 1 for load in kept)


def cut(subject: Subject, state: int) -> Iterator[str]:
    """Yield the boilers whose overrun is cut off in a state, since they have no supply."""
    for device in overruns(subject):
        if without_power(subject, device, state):
            yield part_of(subject.circuit.variables[device.variable].name)
