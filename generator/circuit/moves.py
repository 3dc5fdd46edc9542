"""How a circuit moves by itself: stable and reachable states, endless runs, races, memory."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.circuit.flat import Circuit
from generator.circuit.potentials import Potentials, table_or
from generator.circuit.tables import Space, Table

Moves = tuple[tuple[int, Table], ...]
"""Each device position with the states in which it wants to be worked."""


@dataclass(frozen=True)
class Motion:
    """Sets of states, as tables. A device moves alone; switches may be flipped at any time."""

    circuit: Circuit
    space: Space
    moves: Moves

    @cached_property
    def stable(self) -> Table:
        """States in which nothing wants to move."""
        return self.space.no(table_or(unlike for _, unlike in self._unlike))

    @cached_property
    def reachable(self) -> Table:
        """States that can come about from rest, by flips of switches and moves of devices."""
        reached, before = self.space.some(1, self._switches), 0
        while reached != before:
            moved = successors(self.space, self.moves, reached)
            before, reached = reached, reached | self.space.some(moved, self._switches)
        return reached

    @cached_property
    def endless(self) -> Table:
        """Reachable states from which devices may go on moving for ever."""
        table, before = self.reachable & ~self.stable, -1
        while table != before:
            before, table = table, table & predecessors(self.space, self.moves, table)
        return table

    @cached_property
    def layers(self) -> tuple[Table, ...]:
        """Reachable states by the least number of flips and moves from rest."""
        return tuple(self._layers())

    def _layers(self) -> Iterator[Table]:
        seen = layer = 1
        while layer:
            yield layer
            flipped = table_or(self.space.flip(layer, switch) for switch in self._switches)
            layer = (flipped | successors(self.space, self.moves, layer)) & ~seen
            seen |= layer

    @cached_property
    def _switches(self) -> tuple[int, ...]:
        return tuple(v for v, each in enumerate(self.circuit.variables) if not each.moves)

    @property
    def settled(self) -> Table:
        """Reachable states in which nothing wants to move."""
        return self.stable & self.reachable

    def races(self) -> Iterator[tuple[int, Table]]:
        """Yield devices whose end position from one state depends on who is quicker."""
        for variable, _ in self.moves:
            column = self.space.variables[variable]
            worked = self._leading_to(self.stable & column)
            at_rest = self._leading_to(self.stable & ~column)
            if race := self.reachable & worked & at_rest & ~self.stable:
                yield variable, race

    def memories(self) -> Iterator[tuple[int, Table]]:
        """Yield devices that settle in two positions under one setting of the switches."""
        positions = [variable for variable, _ in self.moves]
        for variable in positions:
            column = self.space.variables[variable]
            worked = self.space.some(self.settled & column, positions)
            at_rest = self.space.some(self.settled & ~column, positions)
            if both := worked & at_rest & self.settled & column:
                yield variable, both

    def _leading_to(self, wanted: Table) -> Table:
        """Return the states from which device moves alone can end in `wanted`."""
        table, before = wanted, -1
        while table != before:
            before, table = table, table | predecessors(self.space, self.moves, table)
        return table

    @cached_property
    def settled_from_rest(self) -> Table:
        """One state for each setting of the switches: where devices come to rest, from rest.

        Devices move one after the other, in the order of the files; a setting under which they
        never come to rest has no state here.
        """
        table = self.space.full
        for variable, _ in self.moves:
            table &= self.space.where(variable, False)
        for _ in range(2 * len(self.moves) + 1):
            before = table
            for variable, unlike in self._unlike:
                if moving := table & unlike:
                    table = (table ^ moving) | self.space.flip(moving, variable)
            if table == before:
                break
        return table & self.stable

    @cached_property
    def _unlike(self) -> Moves:
        """Each device position with the states in which it does not stand as it wants to."""
        return tuple((v, want ^ self.space.variables[v]) for v, want in self.moves)

    def by_setting(self, table: Table) -> Table:
        """Return the settings under which a table holds once devices have come to rest, from rest.

        The same for every position; of two tables joined by `and` or `or` it is the same as of each
        for itself, for there is no more than one such state for each setting.
        """
        return self.space.some(table & self.settled_from_rest, (v for v, _ in self.moves))

    def moving(self, state: int) -> int | None:
        """Return the first device, in the order of the files, that wants to move in a state."""
        return next((v for v, unlike in self._unlike if unlike >> state & 1), None)

    def settle(self, state: int) -> int:
        """Return where a state comes to rest when devices move one after the other.

        Raises RuntimeError where it may go on for ever.
        """
        for _ in range(self.space.size):
            moving = self.moving(state)
            if moving is None:
                return state
            state ^= 1 << moving
        raise RuntimeError("this circuit never settles")

    def story(self, state: int) -> tuple[int, ...]:
        """Return a shortest run of states from rest to `state`, one flip or move at a time."""
        run = [state]
        last = next(i for i, layer in enumerate(self.layers) if layer >> state & 1)
        for layer in reversed(self.layers[:last]):
            run.append(next(s for s in self._before(run[-1]) if layer >> s & 1))
        return tuple(reversed(run))

    def _before(self, state: int) -> Iterator[int]:
        moving = dict(self.moves)
        for variable in range(self.space.count):
            other = state ^ (1 << variable)
            column = self.space.variables[variable]
            if variable not in moving or (moving[variable] ^ column) >> other & 1:
                yield other


def predecessors(space: Space, moves: Moves, wanted: Table) -> Table:
    """Return the states from which one device move leads into `wanted`."""
    return table_or(space.flip(wanted, v) & (want ^ space.variables[v]) for v, want in moves)


def successors(space: Space, moves: Moves, table: Table) -> Table:
    """Return the states to which one device move leads from `table`."""
    return table_or(space.flip(table & (want ^ space.variables[v]), v) for v, want in moves)


def move(potentials: Potentials) -> Motion:
    """Return the motion of a solved circuit.

    Reachable: from everything at rest, by flipping any switch or letting any device move, in any
    order; so a thermostat may open while a valve is travelling.
    """
    return Motion(potentials.circuit, potentials.space, potentials.moves_of())
