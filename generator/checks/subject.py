"""What a rule is asked about: a solved system with its zones, or a conversion between two."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.checks.evidence import Evidence
from generator.checks.solved import Solved
from generator.circuit.flat import (
    Condition,
    Contact,
    HeatSource,
    Load,
    Zone,
    part_of,
)
from generator.circuit.moves import move
from generator.circuit.potentials import solve, table_or
from generator.circuit.tables import Table
from generator.circuit.wiring import wire
from generator.recipe.conversions import Expected
from generator.recipe.moving import wanted
from generator.recipe.wall import Job, Wall

SHUT = "shut"
"""The word of a valve that lets nothing through."""
CIRCULATED = "water in circulation"
STORED = "stored water"
UNVENTED = "unvented cylinder"


@dataclass(frozen=True)
class Subject(Solved):
    """A system with its circuit solved in all states, and what its zones and heat sources do."""

    def motors(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads that move the valve of a zone."""
        names = (name for device in self.circuit.devices for name in device.loads)
        return tuple(self.circuit.load[name] for name in names if part_of(name) == zone.valve)

    def openers(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads that open the valve of a zone; others wind it shut."""
        variables = self.circuit.variables
        helps = {name for device in self.circuit.devices
                 for name in wanted(device.wish, variables[device.variable].words[1] != SHUT)}
        return tuple(load for load in self.motors(zone) if load.name in helps)

    @cached_property
    def lasting(self) -> Table:
        """States that can come about and last: no relay is about to pull in or drop out.

        Valves may be travelling, and an overrun may be running; a relay moves in no time.
        """
        columns = self.potentials.space.variables
        return self.reachable & ~table_or(
            want ^ columns[v] for v, want in self.motion.moves if self._at_once(v))

    def _at_once(self, variable: int) -> bool:
        named = self.circuit.variables[variable]
        position = self.wall.parts[named.part].part.positions[named.name.partition(".")[2]]
        return SHUT not in named.words and position.opens_in == position.shuts_in

    def inner_feeds(self) -> tuple[Load, ...]:
        """Return what a drive holds between two of its own lines: diode and resistor, capacitor.

        It couples them inside one part; what a core left open reads through it nobody can say.
        """
        takes = {name: terminal.carries for name, terminal in self.circuit.terminal.items()}
        return tuple(load for load in self.circuit.loads
                     if not load.linear and takes[load.a] == takes[load.b] == "line")

    def calls(self, valve: str) -> Table:
        """Return where any zone of this valve calls."""
        return table_or(self.potentials.condition(zone.call)
                        for zone in self.circuit.zones if zone.valve == valve)

    def calling(self) -> Table:
        """Return where any zone calls."""
        return table_or(self.calls(zone.valve) for zone in self.circuit.zones)

    def ways(self, zone: Zone) -> int:
        """Return how many ways through the valve of a zone open and shut apart from each other."""
        return sum(SHUT in variable.words for variable in self.circuit.variables
                   if variable.moves and variable.part == zone.valve)

    def opened(self, zone: Zone) -> Table:
        """Return where the valve of a zone is not shut, to whichever side."""
        variables = enumerate(self.circuit.variables)
        return table_or(
            self.potentials.space.where(v, variable.words[1] != SHUT) for v, variable in variables
            if variable.moves and variable.part == zone.valve)

    def end_switch(self, zone: Zone) -> tuple[Contact, ...]:
        """Return the contacts that the valve of a zone closes when it has moved and is open."""
        return tuple(
            contact for contact in self.circuit.contacts
            if contact.part == zone.valve and self.ways(zone)
            and any(self.circuit.variables[v].moves and worked for v, worked in contact.when)
            and self.potentials.closed(contact) & self.opened(zone))

    def bare_switch(self, zone: Zone) -> tuple[str, ...]:
        """Return the ends of the end switch of a zone's valve on which nothing lands."""
        return tuple(end for contact in self.end_switch(zone) for end in (contact.a, contact.b)
                     if not self.led(end))

    def unheated(self, zone: Zone) -> Table:
        """Return the settled states in which a zone calls, its valve is open, and nothing fires.

        Supplies on, cut-outs healthy; empty where no boiler is drawn.
        """
        called = self.potentials.condition(zone.call) & self.able() & self.opened(zone)
        sources = self.sources(CIRCULATED)
        return called & ~table_or(map(self.potentials.fires, sources)) if sources else 0

    def able(self) -> Table:
        """Return the settled states with the supplies on and no cut-out tripped."""
        return self.supplied() & self.healthy() & self.settled

    def volt_free(self) -> tuple[Contact, ...]:
        """Return the contacts that are apart from any supply: both their terminals take anything.

        Whoever wires them decides what they switch.
        """
        takes = {name: terminal.carries for name, terminal in self.circuit.terminal.items()}
        return tuple(contact for contact in self.circuit.contacts
                     if takes[contact.a] == takes[contact.b] == "anything")

    def pairs(self) -> tuple[Load, ...]:
        """Return the volt-free and extra-low-voltage inputs that call while they are joined."""
        return tuple(load for load in self.circuit.loads if load.volt_free)

    def any_open(self) -> Table:
        """Return where the valve of any zone is not shut."""
        return table_or(self.opened(zone) for zone in self.circuit.zones)

    def sources(self, heats: str) -> tuple[HeatSource, ...]:
        """Return the heat sources that heat `water in circulation`, or `stored water`."""
        return tuple(s for s in self.circuit.heat_sources if s.heats == heats)

    def firing(self, within: Table) -> Iterator[tuple[HeatSource, Table, Evidence]]:
        """Yield the sources of circulated water that fire in some of these states, and how."""
        for source in self.sources(CIRCULATED):
            if fires := self.potentials.fires(source) & within:
                yield source, fires, self.feeding(fires, within, self.deciding(source))

    def own_cut_out(self, source: HeatSource) -> Condition:
        """Return the cut-outs inside a heat source's part, tripped."""
        return tuple((v, True) for v, variable in enumerate(self.circuit.variables)
                     if variable.kind == "cut-out" and variable.part == source.part)

    def deciding(self, source: HeatSource) -> Load:
        """Return the load that decides whether a heat source fires: it runs least, or is called."""
        def order(load: Load) -> tuple[int, bool]:
            runs = self.potentials.runs(load) & self.reachable
            return runs.bit_count(), load.kind != "call input"

        return min((self.circuit.load[name] for name in source.loads), key=order)


def subject(wall: Wall) -> Subject:
    """Return the system wired, solved and moved; raises Unreadable if it has too many switches."""
    circuit = wire(wall)
    potentials = solve(circuit)
    return Subject(wall, circuit, potentials, move(potentials))


@dataclass(frozen=True)
class JobSubject:
    """A conversion with both its systems solved."""

    job: Job
    found: Subject
    fitted: Subject


    def covered(self, case: Expected) -> Table:
        """Return the settled states of a case: supplies on, cut-outs healthy where none is named.

        That includes every position of a switch that is neither named nor of such a kind.
        """
        fitted, values = self.fitted, {"isolator": True, "fuse": True, "cut-out": False}
        settings = {v: values[variable.kind] for v, variable in enumerate(fitted.circuit.variables)
                    if variable.kind in values}
        for name, word in case.when.items():
            v = fitted.circuit.index[name]
            settings[v] = fitted.circuit.variables[v].words[1] == word
        return fitted.settled & fitted.potentials.condition(tuple(sorted(settings.items())))


def job_subject(job: Job) -> JobSubject:
    """Return the conversion with both systems solved."""
    return JobSubject(job, subject(job.found), subject(job.fitted))
