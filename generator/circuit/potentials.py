"""What every terminal is in every state: joined to line, neutral or earth, hard or by loads."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, reduce
from operator import or_

from generator.circuit.elements import Condition, Contact, HeatSource, Load
from generator.circuit.flat import Circuit
from generator.circuit.reach import Neighbours, Nets, neighbours, reach, ways
from generator.circuit.tables import Space, Table
from generator.recipe.moving import Both, Either, Not, Wish, Word

ByNet = Mapping[int, Table]


class Standing(StrEnum):
    """What a terminal is in one state; the words are those said to the reader."""

    SHORT = "shorted"
    LINE = "live"
    NEUTRAL = "neutral"
    EARTH = "earth"
    SOFT_LINE = "live through a load"
    SOFT_NEUTRAL = "neutral through a load"
    BETWEEN = "between"
    FLOATING = "floating"


@dataclass(frozen=True)
class Potentials:
    """Truth tables of one circuit; all per net, over all states of `space`."""

    circuit: Circuit
    space: Space
    nets: Nets
    line_of: Mapping[str, ByNet]
    neutral_of: Mapping[str, ByNet]
    earth: ByNet
    soft_line: ByNet
    soft_neutral: ByNet
    unknown: ByNet
    paired: Mapping[str, Table]

    @cached_property
    def line(self) -> dict[int, Table]:
        """Where each net is joined to any supply's line."""
        return _any(self.line_of.values())

    @cached_property
    def neutral(self) -> dict[int, Table]:
        """Where each net is joined to any supply's neutral."""
        return _any(self.neutral_of.values())

    @cached_property
    def shorted(self) -> Table:
        """Where some supply has its line joined to a neutral or to earth."""
        return table_or(table & (self.neutral.get(net, 0) | self.earth.get(net, 0))
                        for net, table in self.line.items())

    def at(self, tables: ByNet, terminal: str) -> Table:
        """Return the table of the net that a terminal is on."""
        return tables.get(self.nets.of[terminal], 0)

    def live(self, terminal: str) -> Table:
        """Return where a terminal is at line, or at line through a load and nothing else."""
        net = self.nets.of[terminal]
        soft = self.soft_line.get(net, 0) & ~self.soft_neutral.get(net, 0)
        return self.line.get(net, 0) | soft

    def standings(self, terminal: str) -> dict[Standing, Table]:
        """Return where a terminal is what; every state stands in exactly one table."""
        net, space = self.nets.of[terminal], self.space
        line, neutral, earth = (t.get(net, 0) for t in (self.line, self.neutral, self.earth))
        short = line & (neutral | earth)
        soft = space.no(line | neutral | earth)
        by_line, by_neutral = (soft & t.get(net, 0) for t in (self.soft_line, self.soft_neutral))
        both = by_line & by_neutral
        return {
            Standing.SHORT: short,
            Standing.LINE: line ^ short,
            Standing.NEUTRAL: neutral & ~short,
            Standing.EARTH: earth & ~neutral & ~short,
            Standing.SOFT_LINE: by_line ^ both,
            Standing.SOFT_NEUTRAL: by_neutral ^ both,
            Standing.BETWEEN: both,
            Standing.FLOATING: soft ^ (by_line | by_neutral),
        }

    def standing(self, terminal: str, state: int) -> Standing:
        """Return what a terminal is in one state."""
        return next(s for s, table in self.standings(terminal).items() if table >> state & 1)

    def not_known(self, terminal: str) -> Table:
        """Return where a closed part decides what a terminal is, so that nobody can say."""
        net = self.nets.of[terminal]
        hard = self.line.get(net, 0) | self.neutral.get(net, 0) | self.earth.get(net, 0)
        return self.unknown.get(net, 0) & ~hard

    def runs(self, load: Load) -> Table:
        """Return where a load has full voltage: one end joined to line, the other to neutral.

        Where an end is joined to line and to neutral or earth, the supply is shorted and nothing is
        counted to run. A volt-free input calls where its two ends are joined to each other; what is
        burnt out never runs.
        """
        if load.volt_free:
            return self.paired[load.name]
        if not load.passes:
            return 0
        a, b = self.nets.of[load.a], self.nets.of[load.b]
        return (self._fed(a) & self._returned(b)) | (self._fed(b) & self._returned(a))

    def _fed(self, net: int) -> Table:
        return self.line.get(net, 0) & ~self.neutral.get(net, 0) & ~self.earth.get(net, 0)

    def _returned(self, net: int) -> Table:
        return self.neutral.get(net, 0) & ~self.line.get(net, 0)

    def fires(self, source: HeatSource) -> Table:
        """Return where a heat source gives heat."""
        return self.space.full & _all(self.runs(self.circuit.load[name]) for name in source.loads)

    def moves_of(self) -> tuple[tuple[int, Table], ...]:
        """Return each device position with the table of states in which it wants to be worked."""
        return tuple((device.variable, self.wished(device.wish)) for device in self.circuit.devices)

    def wished(self, wish: Wish) -> Table:
        """Return where a wish holds."""
        match wish:
            case Word(name) if name in self.circuit.load:
                return self.runs(self.circuit.load[name])
            case Word(name):
                return self.space.variables[self.circuit.index[name]]
            case Not(inner):
                return self.space.no(self.wished(inner))
            case Both(left, right):
                return self.wished(left) & self.wished(right)
            case Either(left, right):
                return self.wished(left) | self.wished(right)

    def condition(self, condition: Condition) -> Table:
        """Return where a condition holds."""
        return self.space.cube_table(condition)

    def closed(self, contact: Contact) -> Table:
        """Return where a contact is closed."""
        return self.condition(contact.when)


def _any(tables: Iterable[ByNet]) -> dict[int, Table]:
    joined: dict[int, Table] = {}
    for each in tables:
        for net, table in each.items():
            joined[net] = joined.get(net, 0) | table
    return joined


def _all(tables: Iterable[Table]) -> Table:
    return reduce(lambda a, b: a & b, tables, -1)


def solve(circuit: Circuit) -> Potentials:
    """Return every table of a circuit.

    Raises Unreadable where it has more switches than one table takes.
    """
    space, of = circuit.space, circuit.nets
    hard = neighbours(of, circuit.over_contacts)
    soft = neighbours(of, circuit.over_contacts, circuit.over_loads)

    def from_terminal(terminal: str) -> dict[int, Table]:
        return reach(hard, {of.of[terminal]: space.full})

    line = {s.name: from_terminal(s.line) for s in circuit.supplies}
    neutral = {s.name: from_terminal(s.neutral) for s in circuit.supplies}
    earth = reach(hard, {of.of[s.earth]: space.full for s in circuit.supplies})
    lines, zeros = _any(line.values()), _any([*neutral.values(), earth])
    return Potentials(
        circuit, space, of, line, neutral, earth,
        soft_line=reach(soft, lines, barred=zeros),
        soft_neutral=reach(soft, zeros, barred=lines),
        unknown=_unknown(circuit, soft, of, space, _any([lines, zeros])),
        paired={load.name: from_terminal(load.a).get(of.of[load.b], 0)
                for load in circuit.loads if load.volt_free},
    )


def _unknown(circuit: Circuit, soft: Neighbours, of: Nets, space: Space,
             hard: ByNet) -> dict[int, Table]:
    """Return what is reached from inside closed parts, not passing a net that is held hard."""
    inside = {of.of[t]: space.full & ~hard.get(of.of[t], 0) for group in circuit.closed
              for t in group}
    return reach(soft, inside, barred=hard)


def could_be_live(potentials: Potentials, supply: str) -> dict[int, Table]:
    """Return where each net could be live from a supply, whatever closed parts do inside.

    Every terminal of a closed part is taken as joined to every other, and loads as passing, which
    is the worst that can be met when a circuit is made dead.
    """
    circuit, of, full = potentials.circuit, potentials.nets, potentials.space.full
    inside = ways((of.place[group[0]], of.place[other], full)
                  for group in circuit.closed for other in group[1:]
                  if circuit.terminal[other].carries != "earth")
    source = next(s for s in circuit.supplies if s.name == supply)
    zeros = _any([*potentials.neutral_of.values(), potentials.earth])
    beside = neighbours(of, circuit.over_contacts, circuit.over_loads, inside)
    return reach(beside, {of.of[source.line]: full}, barred=zeros)


def ever_joined(potentials: Potentials, starts: Iterable[str]) -> frozenset[str]:
    """Return the terminals joined to `starts` over conductors, contacts and loads.

    Contacts count as closed whatever works them: a welded contact must not make the difference.
    """
    circuit, nets = potentials.circuit, potentials.nets
    elements: tuple[Contact | Load, ...] = (*circuit.contacts, *circuit.loads)
    made = ways((nets.place[each.a], nets.place[each.b], 1) for each in elements)
    reached = reach(neighbours(nets, made), {nets.of[start]: 1 for start in starts})
    return frozenset(terminal for terminal, net in nets.of.items() if net in reached)


def table_or(tables: Iterable[Table]) -> Table:
    """Return where any of the tables holds."""
    return reduce(or_, tables, 0)
