"""Electronics that come off before nets are read apart: in their own box, or at a strip."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from generator.checks.subject import Subject
from generator.circuit.elements import Conductor, Load, part_of
from generator.circuit.flat import Circuit

HEAVY = 100.0
"""Watts; a load of more (530 ohm at 230 V) is taken for a joint when nets are read apart."""


@dataclass(frozen=True)
class Off:
    """A part whose electronics come off, with the cores taken off the strip for it.

    Each core with the way it comes off; none where the part is opened and they come off there.
    """

    part: str
    cores: tuple[tuple[str, str], ...] = ()


def electronics(subject: Subject, opened: Collection[str]) -> tuple[Off, ...]:
    """Return every part with electronics, and where it is parted from the nets that are read.

    One that stays shut is parted at an opened strip; without cores that do it, it is opened itself.
    """
    parts = dict.fromkeys(load.part for load in subject.circuit.loads if not load.linear)
    return tuple(Off(part, () if part in opened else _at_strip(subject, part, opened))
                 for part in parts)


def parted(circuit: Circuit, cores: Collection[str]) -> Circuit:
    """Return a circuit without these cores."""
    return replace(circuit, conductors=tuple(
        c for c in circuit.conductors if c.name not in cores)) if cores else circuit


def _at_strip(subject: Subject, part: str, opened: Collection[str]
              ) -> tuple[tuple[str, str], ...]:
    cores = tuple((core.name, way) for core, way in _leading(subject, part)
                  if part_of(way) in opened and _strip(subject, way))
    of = parted(subject.circuit, {name for name, _ in cores}).nets.of
    inside = {of[t.name] for t in subject.circuit.terminals
              if t.part == part and t.carries != "earth" and subject.landed(t.name)}
    read = {of[t.name] for t in subject.circuit.terminals if t.part in opened and t.in_reach}
    return cores if inside.isdisjoint(read) else ()


def _leading(subject: Subject, part: str) -> Iterator[tuple[Conductor, str]]:
    """Yield the cores to a part, its protective conductor left out, with their other ends."""
    earth = subject.potentials.earth
    for core in subject.circuit.conductors:
        if core.kind == "core" and part in core.parts \
                and not subject.potentials.at(earth, core.a):
            yield core, core.b if part_of(core.a) == part else core.a


def _strip(subject: Subject, terminal: str) -> bool:
    return subject.wall.parts[part_of(terminal)].part.letter == "X"


def low_loads(subject: Subject, opened: Collection[str]) -> tuple[Off, ...]:
    """Return the parts through which a healthy circuit may read low, and where each line comes off.

    Only those with a line in an opened box that does not come off with other electronics.
    """
    parts = dict.fromkeys(load.part for load in subject.circuit.loads
                          if _winding(subject, load) in WINDINGS[1:])
    off = {core for each in electronics(subject, opened) for core, _ in each.cores}
    found = (Off(part, tuple(_lines(subject, part, opened))) for part in parts)
    return tuple(each for each in found if each.cores and off.isdisjoint(dict(each.cores)))


def through_loads(subject: Subject, low: Collection[Off]) -> tuple[str, ...]:
    """Return what an ohmmeter shows through the loads there are, by kind, a low one last.

    Windings read far below 230 V squared over their power (common practice, no source).
    """
    parts = {off.part for off in low}
    kinds = {said for load in subject.circuit.loads
             if (said := _winding(subject, load)) == WINDINGS[0] or load.part in parts}
    return tuple(said for said in WINDINGS if said in kinds)


WINDINGS = ("valve motors show some kΩ", "an older pump some hundred Ω",
            "an oil burner some tens of Ω", "a heating element about 20 Ω")


def _winding(subject: Subject, load: Load) -> str:
    valve, pump, burner, element = WINDINGS
    if load.kind == "motor":
        return burner if subject.wall.parts[load.part].part.heat else valve
    if load.kind == "element":
        return element if load.watts > HEAVY else ""
    return pump if load.kind == "pump" else ""


def _lines(subject: Subject, part: str, opened: Collection[str]) -> Iterator[tuple[str, str]]:
    """Yield the line cores of a part with the end at which each comes off, in an opened box."""
    for core, way in _leading(subject, part):
        own = core.a if core.b == way else core.b
        end = next((end for end in (way, own) if part_of(end) in opened), "")
        if end and subject.circuit.terminal[own].carries == "line":
            yield core.name, end
