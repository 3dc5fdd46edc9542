"""A boiler that runs its pump on after firing, and what switching off under it means for a test."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.subject import Subject
from generator.circuit.flat import Device, part_of

ENDED = "every call off and the overrun ended"
"""What comes before a supply is switched off: a hot boiler is not left without flow."""
BRIEF = "This cuts the overrun: off only as long as the readings take, then on again."


def overruns(subject: Subject) -> tuple[Device, ...]:
    """Return the positions of boilers that keep a pump outside running for a while."""
    return tuple(device for device in subject.circuit.devices if _runs_on(subject, device))


def _runs_on(subject: Subject, device: Device) -> bool:
    part, _, name = subject.circuit.variables[device.variable].name.partition(".")
    mounted, net = subject.wall.parts[part].part, subject.potentials.nets.of
    pumps = {net[load.a] for load in subject.circuit.loads if load.kind == "pump"}
    return bool(mounted.heat) and mounted.positions[name].shuts_in != "at once" and any(
        net[contact.b] in pumps for contact in subject.circuit.contacts
        if contact.part == part and device.variable in dict(contact.when))


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
