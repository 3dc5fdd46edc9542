"""A person on site who measures in a faulty circuit, without a look at what a finder expects."""

from __future__ import annotations

from collections.abc import Iterator

from generator.circuit.faults import Fault, FaultKind
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.potentials import solve
from generator.circuit.reading import VOLTS, reading
from generator.sitework.finder.choice import End, Tree
from generator.sitework.finder.complaints import sight_words
from generator.sitework.finder.ground import Case, Ground
from generator.sitework.finder.measurement import (
    ANY,
    JOINED,
    LOAD,
    NOT_JOINED,
    NOTHING,
    OPEN,
    PART,
    WHOLE,
    Kind,
    Measurement,
)
from generator.sitework.finder.suspects import Course


class Person:
    """Someone who stands before a circuit with a tester, a meter and two eyes."""

    def __init__(self, ground: Ground, fault: Fault | Circuit) -> None:
        self.ground = ground
        self.circuit = fault.circuit if isinstance(fault, Fault) else fault
        # A core may be broken in its sheath, where nobody sees it.
        broken = isinstance(fault, Fault) and fault.kind is FaultKind.OPEN
        self.looks = ground.subject.circuit if broken else self.circuit
        self.potentials = solve(self.circuit)
        self.motion = move(self.potentials)

    def answers(self, asked: Measurement) -> tuple[str, ...]:
        """Return every answer that this person may give; several where a meter cannot say."""
        return {Kind.METER: self.meter, Kind.READ: self.read, Kind.SEE: self.see,
                Kind.LOOK: self.look}[asked.kind](asked)

    def meter(self, asked: Measurement) -> tuple[str, ...]:
        a, b = asked.terminals
        dials = self.ground.cases[0].setting & self.ground.dials if asked.at == ANY else asked.at
        state = self.motion.settle(dials)
        if self._joined(state, a, b, through_loads=False):
            return JOINED, JOINED
        path = self._joined(state, a, b, through_loads=True)
        if not path:
            return OPEN, NOT_JOINED
        return (LOAD, NOT_JOINED) if path == "linear" else (LOAD, OPEN, NOT_JOINED)

    def _joined(self, state: int, a: str, b: str, through_loads: bool) -> str:
        """Walk from terminal to terminal; neutral and earth of every supply are one at the origin.

        Common practice in the United Kingdom, no source.
        """
        origin = {pole for s in self.circuit.supplies for pole in (s.neutral, s.earth)}
        for linear in (True, False):
            met, ahead = {a}, [a]
            while ahead:
                here = ahead.pop()
                there = origin if here in origin else set()
                for end in {*there, *self._beside(state, here, through_loads, linear)} - met:
                    met.add(end)
                    ahead.append(end)
            if b in met:
                return "linear" if linear else "electronics"
        return ""

    def _beside(self, state: int, here: str, through_loads: bool, linear: bool) -> Iterator[str]:
        elements = [*self.circuit.conductors,
                    *(c for c in self.circuit.contacts
                      if all(bool(state >> v & 1) == value for v, value in c.when))]
        if through_loads:
            # A call input may be an opto-coupler: common practice, no source.
            elements += [x for x in self.circuit.loads if x.passes and not (
                linear and x.kind in ("electronics", "call input"))]
        for each in elements:
            if here in (each.a, each.b):
                yield each.b if here == each.a else each.a

    def read(self, asked: Measurement) -> tuple[str, ...]:
        state = self.motion.settle(asked.at)
        assert not self.potentials.shorted >> state & 1, "the supply would trip"
        shown = reading(self.potentials, state, *asked.terminals)
        if shown.volts is None and shown.span is None:
            return WHOLE, PART, NOTHING
        least, most = shown.span or (shown.volts, shown.volts)
        return tuple(dict.fromkeys((*self._says(least), *self._says(most))))

    def _says(self, volts: float) -> tuple[str, ...]:
        if volts == VOLTS:
            return (WHOLE,)
        if volts > 0.7 * VOLTS:
            return PART, WHOLE
        return (PART,) if volts else (NOTHING,)

    def see(self, asked: Measurement) -> tuple[str, ...]:
        said = self.sees(next(c for c in self.ground.cases if c.setting == asked.at))
        assert said != "the supply trips"
        return (said,)

    def sees(self, case: Case) -> str:
        """Return what is seen when a setting is made, valves moving one after the other."""
        state, passed = case.setting, set[int]()
        while state not in passed:
            if self.potentials.shorted >> state & 1:
                return sight_words(self.ground, case, (Course.TRIPS, ()))
            passed.add(state)
            moving = [v for v, want in self.motion.moves if (want >> state ^ state >> v) & 1]
            if not moving:
                return sight_words(self.ground, case, (Course.RESTS, self.seen(state)))
            state ^= 1 << moving[0]
        return sight_words(self.ground, case, (Course.RESTLESS, ()))

    def seen(self, state: int) -> tuple[bool, ...]:
        """Return which signs of the ground are seen in a state."""
        circuit, potentials = self.circuit, self.potentials
        tables = {variable.name: potentials.space.variables[v]
                  for v, variable in enumerate(circuit.variables)}
        tables |= {source.name: potentials.fires(source) for source in circuit.heat_sources}
        tables |= {load.name: potentials.runs(load) for load in circuit.loads}
        return tuple(bool(tables[sign.what] >> state & 1) for sign in self.ground.seen)

    def look(self, asked: Measurement) -> tuple[str, ...]:
        (terminal,) = asked.terminals
        landed = sorted(c.name for c in self.looks.conductors
                        if c.kind != "joint" and terminal in (c.a, c.b))
        return (", ".join(landed) or "nothing",)


def ends(tree: Tree, person: Person, failing: int = 0) -> Iterator[End]:
    """Yield every end a person can come to; measurement number `failing` cannot be made."""
    if isinstance(tree, End):
        yield tree
    elif failing == 1:
        yield from ends(tree.could_not, person)
    else:
        given = person.answers(tree.measurement)
        ways = [then for says, then in tree.answers if says in given]
        assert ways, f"no answer of {[says for says, _ in tree.answers]} is any of {given}"
        for then in ways:
            yield from ends(then, person, failing - 1 if failing else 0)

