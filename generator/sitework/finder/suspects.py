"""Faults with everything by which one can be told from another on site."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from generator.circuit.elements import Conductor, Contact, Load, part_of
from generator.circuit.faults import Fault, FaultKind
from generator.circuit.flat import Circuit
from generator.circuit.moves import Motion, move
from generator.circuit.potentials import Potentials, solve
from generator.circuit.reach import joined_numbers
from generator.circuit.tables import first
from generator.sitework.coverage import Coverage
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.readings import Pair, read_at
from generator.sitework.signs import Shown, Site, colours

Groups = Mapping[str, int]
"""For each terminal, the number of the net it is on."""


class Course(StrEnum):
    """How a setting ends: at rest, with the supply tripped, or never at rest."""

    RESTS = "comes to rest"
    TRIPS = "trips the supply"
    RESTLESS = "starts and stops and never comes to rest"


@dataclass(frozen=True)
class Joints:
    """What an ohmmeter finds joined, all dead: directly, through linear loads, through any load."""

    direct: Groups
    linear: Groups
    loads: Groups


@dataclass(frozen=True)
class Suspect:
    """A fault, and what it shows: live by setting, dead by the setting of the dials, to the eye.

    `reads` only where a setting comes to rest; `idle` where it is in parts out of service: no
    complaint is put down to it."""

    fault: Fault
    signs: Shown
    courses: Mapping[int, Course]
    reads: Mapping[int, Mapping[Pair, str]]
    dead: Mapping[int, Joints]
    landed: Mapping[str, tuple[str, ...]]
    idle: bool = False


def suspects(ground: Ground, coverage: Coverage) -> tuple[Suspect, ...]:
    """Return every single fault of a system as a suspect."""
    healthy = ground.subject.circuit
    landed = _landed(healthy, ground.site)

    def suspect(fault: Fault, signs: Shown) -> Suspect:
        potentials = solve(fault.circuit)
        motion = move(potentials)
        # A core may be broken where nobody sees it: its look proves nothing.
        look = landed if fault.kind is FaultKind.OPEN else _landed(fault.circuit, ground.site)
        courses = {case.setting: course(potentials, motion, case.setting)
                   for case in ground.cases}
        return Suspect(
            fault, signs, courses,
            read_at(potentials, {setting: motion.settle(setting)
                                 for setting, ends in courses.items() if ends is Course.RESTS},
                    signs, ground.read),
            {dials: joints(fault.circuit, motion, dials) for dials in dial_settings(ground)}, look,
            touched(healthy, fault.circuit) <= ground.idle)

    return tuple(suspect(covered.fault, covered.signs) for covered in coverage.faults)


def touched(healthy: Circuit, faulty: Circuit) -> frozenset[str]:
    """Return the parts at which two circuits differ."""
    ends = _joining(healthy) ^ _joining(faulty)
    moved = {*healthy.devices} ^ {*faulty.devices}
    return frozenset({part_of(end) for each in ends for end in (each.a, each.b)}
                     | {healthy.variables[device.variable].part for device in moved})


def _joining(circuit: Circuit) -> frozenset[Conductor | Contact | Load]:
    return frozenset((*circuit.conductors, *circuit.contacts, *circuit.loads))


def dial_settings(ground: Ground) -> tuple[int, ...]:
    """Return how dials may stand while all is dead: as in any of the settings."""
    return tuple(dict.fromkeys(case.setting & ground.dials for case in ground.cases))


def course(potentials: Potentials, motion: Motion, setting: int) -> Course:
    """Return how it ends when a setting is made from rest, valves moving one after the other."""
    state, passed = setting, set[int]()
    while state not in passed:
        if potentials.shorted >> state & 1:
            return Course.TRIPS
        passed.add(state)
        moving = motion.moving(state)
        if moving is None:
            return Course.RESTS
        state ^= 1 << moving
    return Course.RESTLESS


def joints(circuit: Circuit, motion: Motion, dials: int) -> Joints:
    """Return what is joined with everything isolated; a valve stuck open is open then as well.

    Neutral and earth meet at the origin of each supply (common practice in the United Kingdom, no
    source).
    """
    fixed = motion.space.cube_table(tuple(
        (v, bool(dials >> v & 1)) for v, each in enumerate(circuit.variables) if not each.moves))
    settled = motion.settled_from_rest & fixed
    state = first(settled) if settled else dials
    closed = [(s.neutral, s.earth) for s in circuit.supplies]
    closed += [(c.a, c.b) for c in circuit.contacts if c.closed(state)]
    passing = [load for load in circuit.loads if load.passes]
    linear = [(load.a, load.b) for load in passing if _plain(load)]
    electronic = [(load.a, load.b) for load in passing if not _plain(load)]
    return Joints(_groups(circuit, closed), _groups(circuit, [*closed, *linear]),
                  _groups(circuit, [*closed, *linear, *electronic]))


def _plain(load: Load) -> bool:
    """Tell whether a meter surely shows a load: motors and elements.

    Behind a call input stands an opto-coupler or a relay circuit (common practice, no source): a
    healthy one may read open.
    """
    return load.linear and load.kind != "call input"


def _groups(circuit: Circuit, joined: Iterable[tuple[str, str]]) -> Groups:
    """Return what is joined to what by conductors and more, numbered in terminal order."""
    wired = circuit.nets
    speaks = joined_numbers(wired.count, ((wired.of[a], wired.of[b]) for a, b in joined))
    number = {net: i for i, net in enumerate(dict.fromkeys(speaks))}
    return {terminal: number[speaks[net]] for terminal, net in wired.of.items()}


def _landed(circuit: Circuit, site: Site) -> Mapping[str, tuple[str, ...]]:
    by_terminal: dict[str, tuple[str, ...]] = {}
    for terminal, name in colours(circuit, site):
        by_terminal[terminal] = (*by_terminal.get(terminal, ()), name)
    return by_terminal
