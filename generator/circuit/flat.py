"""The flat circuit that every check, page and test reads; each element knows its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

from generator.circuit.edits import nets_of_edit
from generator.circuit.elements import (
    Condition,
    Conductor,
    Contact,
    Device,
    HeatSource,
    Load,
    Supply,
    Terminal,
    Variable,
    Zone,
)
from generator.circuit.reach import Joint, Nets, Ways, nets, ways
from generator.circuit.tables import MOST_VARIABLES, Space, Table, space_of
from generator.findings import Finding, Severity, Unreadable
from generator.recipe.moving import said


@dataclass(frozen=True)
class Circuit:
    """Everything that is analysed; order is the order of the files.

    `edit_of` is the circuit that this one was made of, if any: what both have is worked out once.
    """

    variables: tuple[Variable, ...]
    terminals: tuple[Terminal, ...]
    conductors: tuple[Conductor, ...]
    contacts: tuple[Contact, ...]
    loads: tuple[Load, ...]
    devices: tuple[Device, ...]
    heat_sources: tuple[HeatSource, ...]
    supplies: tuple[Supply, ...]
    zones: tuple[Zone, ...]
    closed: tuple[tuple[str, ...], ...]
    edit_of: Circuit | None = field(default=None, compare=False, repr=False)

    @property
    def _before(self) -> Circuit | None:
        """The circuit that this is an edit of, as long as it has the same terminals and states."""
        before = self.edit_of
        same = before and before.terminals is self.terminals and before.variables is self.variables
        return before if same else None

    @cached_property
    def nets(self) -> Nets:
        """Which terminals conductors join."""
        if before := self._before:
            return nets_of_edit(before, self.conductors)
        return nets((t.name for t in self.terminals), ((c.a, c.b) for c in self.conductors))

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """The places of the two ends of each conductor."""
        place = self.nets.place
        return tuple((place[c.a], place[c.b]) for c in self.conductors)

    @property
    def over_contacts(self) -> Ways:
        """The ways over contacts."""
        before = self._before
        if before and before.contacts is self.contacts:
            return before.over_contacts
        return self._over_contacts

    @property
    def over_loads(self) -> Ways:
        """The ways over loads that let current through."""
        before = self._before
        if before and before.loads is self.loads:
            return before.over_loads
        return self._over_loads

    @cached_property
    def _over_contacts(self) -> Ways:
        place, known, table = self.nets.place, self._closings, self.space.cube_table
        return ways((place[c.a], place[c.b], known.get(c.when) or table(c.when))
                    for c in self.contacts)

    @cached_property
    def _closings(self) -> dict[Condition, Table]:
        """Where conditions of contacts hold, those of the circuit that the edits began with."""
        if before := self._before:
            return before._closings
        return {c.when: self.space.cube_table(c.when) for c in self.contacts}

    @cached_property
    def _over_loads(self) -> Ways:
        place, full = self.nets.place, self.space.full
        return ways((place[x.a], place[x.b], full) for x in self.loads if x.passes)

    @property
    def space(self) -> Space:
        """All states; raises Unreadable where there are too many."""
        if len(self.variables) > MOST_VARIABLES:
            raise Unreadable([too_many(self.variables)])
        return space_of(len(self.variables))

    @cached_property
    def index(self) -> dict[str, int]:
        """Position of each variable by name."""
        return {variable.name: i for i, variable in enumerate(self.variables)}

    @cached_property
    def terminal(self) -> dict[str, Terminal]:
        """Each terminal by name."""
        return {terminal.name: terminal for terminal in self.terminals}

    @cached_property
    def load(self) -> dict[str, Load]:
        """Each load by name."""
        return {load.name: load for load in self.loads}

    def words(self, condition: Condition) -> tuple[tuple[str, str], ...]:
        """Return a condition as names and words, for a reader."""
        named = ((self.variables[v], value) for v, value in condition)
        return tuple((variable.name, variable.words[value]) for variable, value in named)

    def text(self) -> str:
        """Return the circuit as stable plain text, one element a line."""
        return "\n".join(_lines(self)) + "\n"


def without(circuit: Circuit, element: Conductor | Contact) -> Circuit:
    """Return the circuit with one conductor or contact taken out."""
    if isinstance(element, Contact):
        return replace(circuit, edit_of=circuit,
                       contacts=tuple(c for c in circuit.contacts if c is not element))
    return replace(circuit, edit_of=circuit,
                   conductors=tuple(c for c in circuit.conductors if c is not element))


def too_many(variables: tuple[Variable, ...]) -> Finding:
    """Return the finding that a circuit has too many switches and devices for one table."""
    names = ", ".join(variable.name for variable in variables)
    return Finding(
        "too-many-switches", Severity.ERROR, "This circuit has too many switches and devices.",
        (variables[MOST_VARIABLES].place,), found=f"{len(variables)}: {names}",
        expected=f"at most {MOST_VARIABLES}",
        hint="write parts that share no conductor as systems of their own")


def _lines(circuit: Circuit) -> Iterator[str]:
    for supply in circuit.supplies:
        yield f"supply {supply.name}: {supply.line} {supply.neutral} {supply.earth}"
    for variable in circuit.variables:
        yield f"{variable.kind} {variable.name}: {variable.words[0]} / {variable.words[1]}"
    for conductor in circuit.conductors:
        colour = f" {conductor.colour}" if conductor.colour else ""
        sleeve = f" sleeved {conductor.sleeve}" if conductor.sleeve else ""
        yield f"{conductor.kind} {conductor.name}: {conductor.a} - {conductor.b}{colour}{sleeve}"
    for contact in circuit.contacts:
        when = ", ".join(f"{name} {word}" for name, word in circuit.words(contact.when))
        yield f"contact {contact.name}: {contact.a} - {contact.b} while {when}"
    for load in circuit.loads:
        yield f"{load.kind} {load.name}: {load.a} - {load.b} {load.watts:g} W"
    for device in circuit.devices:
        yield f"device {circuit.variables[device.variable].name} moved by {said(device.wish)}"
    for group in circuit.closed:
        yield f"closed: {' '.join(group)}"
