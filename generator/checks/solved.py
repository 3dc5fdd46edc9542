"""A system solved in all states, and how a fault in it is shown: state, path and places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from generator.checks.evidence import Evidence, nearest_first, note, path_places
from generator.circuit.elements import Conductor, Contact, Load
from generator.circuit.flat import Circuit, without
from generator.circuit.moves import Motion
from generator.circuit.path import Element, find_path
from generator.circuit.potentials import Potentials, solve
from generator.circuit.tables import Table, first
from generator.findings import Place, listed
from generator.recipe.wall import Wall


@dataclass(frozen=True)
class Solved:
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

        Variables whose value does not matter, as long as the state lies in `within`, are left out:
        positions sooner than what a person sets, since they follow from it.
        """
        space = self.potentials.space
        moved = {v for v, _ in self.motion.moves}
        cube = space.widen(self.earliest(table), table, space.no(within), moved)
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

    def earths(self) -> tuple[str, ...]:
        """Return the terminals where supplies bring their protective conductors in."""
        return tuple(supply.earth for supply in self.circuit.supplies)

    def stands(self, terminal: str, within: Table) -> str:
        """Return what a terminal is in some of these states, in words."""
        standings = self.potentials.standings(terminal).items()
        return listed(str(standing) for standing, table in standings if table & within)

    def feeding(self, table: Table, within: Table, load: Load) -> Evidence:
        """Return the places, state and path of the line that feeds a load where it should not.

        What alone brings that about comes first, then the core nearest to the load.
        """
        potentials, state = self.potentials, self.earliest(table)
        fed = potentials.at(potentials.line, load.a) >> state & 1
        goal = load.a if fed else load.b
        path = find_path(self.circuit, state, self.lines(), goal)
        assert path is not None
        places = (*self._astray(table, load, path.terminals), *nearest_first(path))
        return tuple(dict.fromkeys(places)), self.shown(table, within), path.terminals

    def _astray(self, wrong: Table, load: Load, path: Sequence[str]) -> Iterator[Place]:
        """Yield the cores and links without which a load runs as before, only not where wrong.

        Back from the load; none where it runs nowhere else, so that nothing tells right from wrong.
        """
        runs = self.potentials.runs(load) & self.reachable
        for core in reversed(self.along(path)) if runs & ~wrong else ():
            lost = runs & ~solve(without(self.circuit, core)).runs(load)
            if lost and not lost & ~wrong:
                yield core.place.noted(note(core))

    def made_safe(self, parts: Iterable[str], colour: str) -> Iterator[Place]:
        """Yield the cores of a colour that go nowhere in cables to some of these parts."""
        near = frozenset(parts)
        cables = dict.fromkeys(core.cable for core in self.circuit.conductors
                               if core.cable and near & set(core.parts))
        for name in cables:
            core = self.wall.cables[name].laid.cores.get(colour)  # type: ignore[call-overload]
            if core and core.made_safe:
                place = self.wall.source.key_place("cables", name, "cores", colour)
                yield place.noted(f"core {name}.{colour}, made safe")

    def told(self, run: Sequence[int]) -> str:
        """Return a run of states as a story: what is flipped or moves, one after the other."""
        changes = (((before ^ after).bit_length() - 1, after) for before, after in pairwise(run))
        named = ((self.circuit.variables[v], after >> v & 1) for v, after in changes)
        return ", ".join(f"`{variable.name}` {variable.words[value]}" for variable, value in named)

    def landed(self, terminal: str) -> tuple[Conductor, ...]:
        """Return the cores and links that land on a terminal; joints inside a part do not count."""
        return tuple(c for c in self.circuit.conductors
                     if c.kind != "joint" and terminal in (c.a, c.b))

    def led(self, terminal: str) -> bool:
        """Tell whether anything leads on from a terminal, on the wall or inside its part."""
        within: list[Element] = [
            *self.circuit.conductors, *self.circuit.loads, *self.circuit.contacts]
        inside = sum(terminal in (each.a, each.b) for each in within)
        return inside > 1 or bool(self.landed(terminal))

    def on(self, load: Load, terminals: Iterable[str]) -> bool:
        """Tell whether a load that lets current through hangs on the net of one of these."""
        nets = {self.potentials.nets.of[terminal] for terminal in terminals}
        return load.passes and bool(nets & {self.potentials.nets.of[load.a],
                                            self.potentials.nets.of[load.b]})

    def along(self, path: Sequence[str]) -> tuple[Conductor, ...]:
        """Return the cores and links between the terminals of a path, in its order."""
        return tuple(c for a, b in pairwise(path) for c in self.circuit.conductors
                     if c.kind != "joint" and {c.a, c.b} == {a, b})

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

    def landing_places(self, terminal: str) -> tuple[Place, ...]:
        """Return where the cores and links that land on a terminal were written."""
        return tuple(c.place.noted(note(c)) for c in self.landed(terminal))

    def only_through(self, element: Conductor | Contact) -> tuple[tuple[Load, Table], ...]:
        """Return the loads that an element carries alone, and in which reachable states.

        They run there, and in the same state would not run with the element taken out.
        """
        rest = solve(without(self.circuit, element))
        carried = ((load, self.potentials.runs(load) & ~rest.runs(load) & self.reachable)
                   for load in self.circuit.loads)
        return tuple((load, table) for load, table in carried if table)

    def enclosures(self) -> dict[str, tuple[str, ...]]:
        """Return the terminals in each enclosure, by its outermost part."""
        boxes: dict[str, list[str]] = {}
        for terminal in self.circuit.terminals:
            boxes.setdefault(self.outermost(terminal.part), []).append(terminal.name)
        return {part: tuple(terminals) for part, terminals in boxes.items()}

    def outermost(self, part: str) -> str:
        """Return the part in whose enclosure a part sits in the end; itself if in none."""
        seen = {part}
        while (outer := self.wall.system.parts[part].inside) and outer not in seen:
            seen.add(part := outer)
        return part

    @cached_property
    def ever_live(self) -> frozenset[str]:
        """Terminals that are live in some reachable state."""
        return frozenset(t.name for t in self.circuit.terminals
                         if self.potentials.live(t.name) & self.reachable)
