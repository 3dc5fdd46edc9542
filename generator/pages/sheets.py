"""From a system to the values its wiring drawing is made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.pages.drawings.sheet import Box, Pin, Wire, Wiring
from generator.pages.wording import conductor, terminal
from generator.recipe.wall import Mounted


def wiring_sheet(subject: Subject, fates: Mapping[str, str] | None = None) -> Wiring:
    """Return a system as a wiring drawing; `fates` says what becomes of a core, by its name."""
    wires = tuple(_wires(subject, fates or {}))
    landed = {end for wire in wires for end in (wire.start, wire.end)}
    boxes = tuple(box for part in subject.wall.parts.values()
                  if (box := _box(subject, part, landed)).pins)
    return Wiring(f"Wiring: {subject.wall.system.name}", _described(subject, wires), boxes, wires)


def not_drawn(subject: Subject) -> tuple[str, ...]:
    """Return what is on the wall and joined to nothing: parts, and cores made safe."""
    landed = {part for c in subject.circuit.conductors if c.kind != "joint" for part in c.parts}
    parts = (f"{terminal(p.designation)} {p.called}" for p in subject.wall.parts.values()
             if p.designation not in landed and p.part.letter != "X")
    cores = (f"{terminal(name)} {colour}, made safe" for name, cable in subject.wall.cables.items()
             for colour, core in cable.laid.cores.items() if core.made_safe)
    capped = (f"{terminal(f'{p.designation}:{name}')}, capped"
              for p in subject.wall.parts.values() for name in p.placed.capped)
    return (*parts, *cores, *capped)


def _box(subject: Subject, part: Mounted, landed: set[str]) -> Box:
    """A strip shows all its ways, free ones too; any other part what something lands on."""
    whole = part.part.letter == "X"
    names = (
        name for name in part.part.terminals if whole or f"{part.designation}:{name}" in landed
    )
    pins = tuple(Pin(f"{part.designation}:{name}", name) for name in names)
    title = part.called if whole else " ".join([part.called, *_cables(subject, part)])
    return Box(part.designation, title, pins, part.part.driven)


def _cables(subject: Subject, part: Mounted) -> tuple[str, ...]:
    """Return the one cable of a part; where there are more, the cores are told apart by colour."""
    names = dict.fromkeys(
        core.cable for core in subject.circuit.conductors
        if core.cable and part.designation in core.parts)
    return tuple(f"({name})" for name in names) if len(names) == 1 else ()


def _wires(subject: Subject, fates: Mapping[str, str]) -> Iterator[Wire]:
    for core in subject.circuit.conductors:
        if core.kind != "joint":
            net = subject.potentials.nets.of[core.a]
            yield Wire(
                core.name,
                core.a,
                core.b,
                core.colour,
                core.sleeve,
                str(net),
                _words(core),
                fates.get(core.name, ""),
            )


def _words(core: Conductor) -> str:
    name = f"-{core.name}" if core.kind == "core" else f"link {core.name}"
    return (
        f"{name}: {conductor(core.colour, core.sleeve, core.does)}; "
        f"{terminal(core.a)} to {terminal(core.b)}"
    )


def _described(subject: Subject, wires: tuple[Wire, ...]) -> str:
    return (
        f"{len(subject.wall.parts)} parts joined by {len(wires)} cores and links; "
        "the table below says the same in words."
    )
