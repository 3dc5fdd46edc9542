"""The flat circuit that every check, page and test reads; each element knows its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

from generator.circuit.edits import nets_of_edit
from generator.circuit.reach import Joint, Nets, Ways, nets, ways
from generator.circuit.tables import MOST_VARIABLES, Space, Table, space_of
from generator.findings import Finding, Place, Severity, Unreadable
from generator.recipe.moving import Wish, said

Condition = tuple[tuple[int, bool], ...]
"""Variables and the values they must have, all of them."""


def part_of(name: str) -> str:
    """Return the designation in the full name of a terminal (`X1:7`) or of anything else (`M1.N`).

    The two sorts are joined to it by a colon and by a point.
    """
    return re.split("[:.]", name, maxsplit=1)[0]


@dataclass(frozen=True)
class Variable:
    """A switch, or the position of a device; `words` are for false (at rest) and true (worked)."""

    name: str
    words: tuple[str, str]
    kind: str
    place: Place
    resets: str = ""

    @property
    def part(self) -> str:
        """Designation of the part it belongs to."""
        return part_of(self.name)

    @property
    def moves(self) -> bool:
        """Whether the circuit itself sets it."""
        return self.kind == POSITION


POSITION = "position"
VOLT_FREE = "volt-free input"
BURNT = "burnt out"


@dataclass(frozen=True)
class Terminal:
    """A place where a conductor lands; `fixed` where its core is fitted with the part."""

    name: str
    carries: str
    takes: int
    row: str
    place: Place
    fixed: bool = False

    @property
    def part(self) -> str:
        """Designation of the part it belongs to."""
        return part_of(self.name)

    @property
    def in_reach(self) -> bool:
        """Whether a probe gets at it once its part is open: not in a sealed head, not inside."""
        return not self.fixed and self.row != "inside"


@dataclass(frozen=True)
class Conductor:
    """A core, a link or a joint inside a part: 0 ohm between two terminals."""

    name: str
    a: str
    b: str
    kind: str
    place: Place
    colour: str = ""
    sleeve: str = ""
    does: str = ""
    amps: float = 0.0
    cable: str = ""

    @property
    def parts(self) -> tuple[str, str]:
        """Designations of the parts at its two ends."""
        return part_of(self.a), part_of(self.b)


@dataclass(frozen=True)
class Contact:
    """Joins a (where the current comes in) and b while its condition holds."""

    name: str
    a: str
    b: str
    when: Condition
    place: Place
    amps: float = 0.0
    inductive: float = 0.0

    def closed(self, state: int) -> bool:
        """Return whether it is closed in one state."""
        return all(bool(state >> v & 1) == value for v, value in self.when)

    @property
    def part(self) -> str:
        """Designation of the part it belongs to."""
        return part_of(self.name)


@dataclass(frozen=True)
class Load:
    """A consumer between two terminals; `watts` at 230 V, `up_to` more where only a range is known.

    A volt-free input lets no current through: it calls while its two terminals are joined outside.
    """

    name: str
    a: str
    b: str
    kind: str
    watts: float
    says: str
    place: Place
    up_to: float | None = None

    @property
    def part(self) -> str:
        """Designation of the part it belongs to."""
        return part_of(self.name)

    @property
    def linear(self) -> bool:
        """Whether it may stand in a calculation as a resistance."""
        return self.kind != "electronics"

    @property
    def passes(self) -> bool:
        """Whether it lets current through."""
        return self.kind not in (VOLT_FREE, BURNT)

    @property
    def volt_free(self) -> bool:
        """Whether it asks only if its terminals are joined."""
        return self.kind == VOLT_FREE


@dataclass(frozen=True)
class Device:
    """A position that moves to its worked end while `wish` holds, and back when it does not.

    Names in the wish are loads (they run), switches and positions (they are worked).
    """

    variable: int
    wish: Wish
    loads: tuple[str, ...]


@dataclass(frozen=True)
class HeatSource:
    """Gives heat while all its loads run; unknown while something lands on `also_asks`."""

    name: str
    loads: tuple[str, ...]
    heats: str
    also_asks: tuple[str, ...]
    place: Place

    @property
    def part(self) -> str:
        """Designation of the part it belongs to."""
        return part_of(self.name)


@dataclass(frozen=True)
class Supply:
    """Line, neutral and protective conductor of one circuit, and what isolates it."""

    name: str
    says: str
    line: str
    neutral: str
    earth: str
    isolated: Condition
    place: Place

    @property
    def part(self) -> str:
        """Designation of the part at which it arrives."""
        return part_of(self.line)


@dataclass(frozen=True)
class Zone:
    """What is heated on its own call.

    Its valve, where it has one; the `way` through it, where it has but one way of several; and the
    heat sources and loads that serve it, where they are said.
    """

    name: str
    valve: str
    way: str
    served_by: tuple[str, ...]
    call: Condition
    cut_out: Condition
    stores: str
    place: Place

    def shares(self, other: Zone) -> bool:
        """Tell whether the call of another zone heats this one too: they are opened together."""
        if self.valve or other.valve:
            return self.valve == other.valve and (
                self.way == other.way or not (self.way and other.way))
        return (self.served_by, self.stores) == (other.served_by, other.stores)


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
