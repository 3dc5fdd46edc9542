"""What a flat circuit is made of; each element knows its place."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.findings import Place
from generator.recipe.moving import Wish

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
