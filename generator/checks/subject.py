"""What a rule is asked about: a solved system, or a conversion between two, and how to show a fault."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from generator.circuit.flat import Circuit, Conductor, Contact
from generator.circuit.moves import Motion, move
from generator.circuit.path import Element, Path, find_path
from generator.circuit.potentials import Potentials, solve
from generator.circuit.tables import Table, first
from generator.circuit.wiring import wire
from generator.findings import Place
from generator.recipe.wall import Job, Wall

Evidence = tuple[tuple[Place, ...], tuple[tuple[str, str], ...], tuple[str, ...]]
"""Places, state and path of a finding."""


@dataclass(frozen=True)
class Subject:
    """A system with its circuit solved in all states."""

    wall: Wall
    circuit: Circuit
    potentials: Potentials
    motion: Motion

    @property
    def reachable(self) -> Table:
        """States that can come about, valves travelling included."""
        return self.motion.reachable

    @property
    def settled(self) -> Table:
        """States that can come about and in which nothing moves any more."""
        return self.motion.settled

    def earliest(self, table: Table) -> int:
        """Return a state of `table` that is the fewest steps away from everything at rest."""
        near = next((layer & table for layer in self.motion.layers if layer & table), table)
        return first(near)

    def shown(self, table: Table, within: Table) -> tuple[tuple[str, str], ...]:
        """Return one example of `table` as the fewest settings that bring it about.

        Variables whose value does not matter, as long as the state lies in `within`, are left out.
        """
        space = self.potentials.space
        cube = space.widen(self.earliest(table), table, space.no(within))
        return self.circuit.words(cube)

    def evidence(
        self, table: Table, within: Table, starts: Iterable[str], goal: str,
        through_loads: bool = False,
    ) -> Evidence:
        """Return the places, state and conducting path that show `table` is not empty."""
        path = find_path(self.circuit, self.earliest(table), starts, goal, through_loads)
        places = path_places(path) if path else (self.circuit.terminal[goal].place,)
        return places, self.shown(table, within), path.terminals if path else (goal,)

    def lines(self) -> tuple[str, ...]:
        """Return the terminals where supplies bring their lines in."""
        return tuple(supply.line for supply in self.circuit.supplies)

    def neutrals(self) -> tuple[str, ...]:
        """Return the terminals where supplies bring their neutrals in."""
        return tuple(supply.neutral for supply in self.circuit.supplies)

    def supplied(self) -> Table:
        """Return the states in which every isolator is on and every fuse is in."""
        return self._all_at({"isolator": True, "fuse": True})

    def healthy(self) -> Table:
        """Return the states in which no cut-out has tripped."""
        return self._all_at({"cut-out": False})

    def _all_at(self, wanted: dict[str, bool]) -> Table:
        space = self.potentials.space
        return space.cube_table(tuple(
            (v, wanted[variable.kind]) for v, variable in enumerate(self.circuit.variables)
            if variable.kind in wanted))

    @cached_property
    def ever_live(self) -> frozenset[str]:
        """Terminals that are live in some reachable state."""
        return frozenset(t.name for t in self.circuit.terminals
                         if self.potentials.live(t.name) & self.reachable)


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


def job_subject(job: Job) -> JobSubject:
    """Return the conversion with both systems solved."""
    return JobSubject(job, subject(job.found), subject(job.fitted))


def path_places(path: Path) -> tuple[Place, ...]:
    """Return where each element of a path was written, with a note that says what it is."""
    places = (step.through.place.noted(_note(step.through)) for step in path.steps)
    return tuple(dict.fromkeys(places))


def _note(element: Element) -> str:
    if isinstance(element, Conductor):
        return f"{element.kind} {element.name}"
    kind = "contact" if isinstance(element, Contact) else element.kind
    return f"{kind} {element.name}"
