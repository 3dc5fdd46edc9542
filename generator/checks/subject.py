"""What a rule is asked about: a solved system with its zones, or a conversion between two."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from generator.checks.zoned import SHUT, Zoned
from generator.circuit.elements import Condition, Contact, HeatSource, Load
from generator.circuit.moves import move
from generator.circuit.potentials import solve, table_or
from generator.circuit.tables import Table
from generator.circuit.wiring import wire
from generator.recipe.wall import Job, Wall
from generator.recipe.words import Expected

AT_ONCE = "at once"
"""How a part says that it moves in no time."""


@dataclass(frozen=True)
class Subject(Zoned):
    """A system with its circuit solved in all states, and what its zones and heat sources do."""

    @cached_property
    def lasting(self) -> Table:
        """States that can come about and last: no relay is about to pull in or drop out.

        Valves may be travelling, and an overrun may be running; a relay moves in no time.
        """
        return self.reachable & ~table_or(
            self._at_once(v, want) for v, want in self.motion.moves)

    @cached_property
    def run_out(self) -> Table:
        """States that last and in which no delay runs: no overrun, no relay that waits to drop out.

        What still runs until a delay has ended runs on the call that began it, and on no other.
        """
        columns, variables = self.potentials.space.variables, self.circuit.variables
        return self.lasting & ~table_or(
            want ^ columns[v] for v, want in self.motion.moves if SHUT not in variables[v].words)

    def _at_once(self, variable: int, want: Table) -> Table:
        """Return where a device is about to move in no time; of an overrun, only into it."""
        named, worked = self.circuit.variables[variable], self.potentials.space.variables[variable]
        position = self.wall.parts[named.part].part.positions[named.name.partition(".")[2]]
        if SHUT not in named.words and position.opens_in == position.shuts_in:
            return want ^ worked
        return want & ~worked if position.opens_in == AT_ONCE else 0

    def inner_feeds(self) -> tuple[Load, ...]:
        """Return what a drive holds between two of its own lines: diode and resistor, capacitor.

        It couples them inside one part; what a core left open reads through it nobody can say.
        """
        takes = {name: terminal.carries for name, terminal in self.circuit.terminal.items()}
        return tuple(load for load in self.circuit.loads
                     if not load.linear and takes[load.a] == takes[load.b] == "line")

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

    def own_cut_out(self, source: HeatSource) -> Condition:
        """Return the cut-outs inside a heat source's part, tripped."""
        return tuple((v, True) for v, variable in enumerate(self.circuit.variables)
                     if variable.kind == "cut-out" and variable.part == source.part)


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
