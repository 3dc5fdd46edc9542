"""The circuit one state at a time, from the definitions alone; shares no code with the model."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generator.circuit.elements import Contact
    from generator.circuit.flat import Circuit

CLASSES = {
    # (line, zero) reached over loads, for an island that is joined to no supply
    (True, False): "live through a load",
    (False, True): "neutral through a load",
    (True, True): "between",
    (False, False): "floating",
}


@dataclass(frozen=True)
class Seen:
    """What one walk over one state saw."""

    standing: dict[str, str]
    runs: dict[str, bool]
    not_known: frozenset[str]


def closed(contact: Contact, state: int) -> bool:
    return all((state // 2**variable) % 2 == int(value) for variable, value in contact.when)


def islands(circuit: Circuit, state: int) -> dict[str, str]:
    """Return for each terminal the one that speaks for its island (union-find)."""
    head = {t.name: t.name for t in circuit.terminals}

    def find(terminal: str) -> str:
        while head[terminal] != terminal:
            terminal = head[terminal]
        return terminal

    joined = [(c.a, c.b) for c in circuit.conductors]
    joined += [(c.a, c.b) for c in circuit.contacts if closed(c, state)]
    for a, b in joined:
        head[find(a)] = find(b)
    return {terminal: find(terminal) for terminal in head}


def spread(starts: Iterable[str], beside: list[tuple[str, str]], barred: set[str]) -> set[str]:
    """Return the islands reached from `starts` over loads, by plain repetition."""
    seen = set(starts) - barred
    grown = True
    while grown:
        new = {y for a, b in beside for x, y in ((a, b), (b, a)) if x in seen} - seen - barred
        seen |= new
        grown = bool(new)
    return seen


def walk(circuit: Circuit, state: int) -> Seen:
    """Return every terminal's class and every load's run in one state."""
    of = islands(circuit, state)
    lines = {of[s.line] for s in circuit.supplies}
    neutrals = {of[s.neutral] for s in circuit.supplies}
    earths = {of[s.earth] for s in circuit.supplies}
    loads = [(of[load.a], of[load.b]) for load in circuit.loads
             if load.kind not in ("volt-free input", "burnt out")]
    by_line = spread(lines, loads, neutrals | earths)
    by_zero = spread(neutrals | earths, loads, lines)
    inside = {of[terminal] for group in circuit.closed for terminal in group}
    unknown = spread(inside, loads, lines | neutrals | earths)

    def kind(island: str) -> str:
        if island in lines:
            return "shorted" if island in neutrals | earths else "live"
        if island in neutrals:
            return "neutral"
        if island in earths:
            return "earth"
        return CLASSES[island in by_line, island in by_zero]

    return Seen(
        standing={terminal: kind(of[terminal]) for terminal in of},
        runs={load.name: of[load.a] == of[load.b] if load.kind == "volt-free input"
              else load.kind != "burnt out"
              and {kind(of[load.a]), kind(of[load.b])} == {"live", "neutral"}
              for load in circuit.loads},
        not_known=frozenset(terminal for terminal in of if of[terminal] in unknown),
    )


def holds(wish: Any, true: Mapping[str, bool]) -> bool:
    """Return whether what moves a device holds, by the words it is made of."""
    match type(wish).__name__:
        case "Word":
            return true[wish.name]
        case "Not":
            return not holds(wish.inner, true)
        case "Both":
            return holds(wish.left, true) and holds(wish.right, true)
        case "Either":
            return holds(wish.left, true) or holds(wish.right, true)
    raise TypeError(wish)


@dataclass(frozen=True)
class SlowMotion:
    """How a circuit moves, worked out state by state."""

    circuit: Circuit

    @cached_property
    def seen(self) -> tuple[Seen, ...]:
        return tuple(walk(self.circuit, s) for s in range(2 ** len(self.circuit.variables)))

    @cached_property
    def moves(self) -> tuple[tuple[int, ...], ...]:
        """For each state, the states one device move away."""
        return tuple(
            tuple(s ^ 2**d.variable for d in self.circuit.devices
                  if holds(d.wish, self.true(s)) != bool(s // 2**d.variable % 2))
            for s in range(len(self.seen)))

    def true(self, state: int) -> dict[str, bool]:
        """Which loads run and which switches and positions are worked."""
        worked = {variable.name: bool(state // 2**v % 2)
                  for v, variable in enumerate(self.circuit.variables)}
        return worked | self.seen[state].runs

    @cached_property
    def stable(self) -> set[int]:
        return {s for s, next_states in enumerate(self.moves) if not next_states}

    @cached_property
    def distance(self) -> dict[int, int]:
        """Fewest flips and moves from rest, for every state that can be reached."""
        switches = [v for v, variable in enumerate(self.circuit.variables)
                    if variable.kind != "position"]
        distance, border = {0: 0}, [0]
        while border:
            ahead = [(s, n) for s in border
                     for n in (*self.moves[s], *(s ^ 2**v for v in switches))]
            border = []
            for s, n in ahead:
                if n not in distance:
                    distance[n] = distance[s] + 1
                    border.append(n)
        return distance

    @cached_property
    def run_on(self) -> dict[int, set[int]]:
        """For each reachable state, itself and all that device moves alone can lead to."""
        return {s: self._run_on(s) for s in self.distance}

    def _run_on(self, state: int) -> set[int]:
        seen, border = {state}, [state]
        while border:
            for n in self.moves[border.pop()]:
                if n not in seen:
                    seen.add(n)
                    border.append(n)
        return seen

    @cached_property
    def endless(self) -> set[int]:
        """Reachable states from which a circle of moves can be met."""
        return {s for s, run in self.run_on.items() if self._circles(run)}

    def _circles(self, run: set[int]) -> bool:
        try:
            TopologicalSorter({s: self.moves[s] for s in run}).prepare()
        except CycleError:
            return True
        return False

    def races(self) -> dict[int, set[int]]:
        """For each device variable: states from which it may end worked or at rest."""
        return {v: found for v in self._positions if (found := {
            s for s, run in self.run_on.items()
            if len({e // 2**v % 2 for e in run & self.stable}) == 2})}

    def memories(self) -> dict[int, set[int]]:
        """For each device variable: settled states, worked, with a twin of one setting at rest."""
        settled = self.stable & set(self.distance)
        mask = sum(2**v for v in self._positions)
        return {v: found for v in self._positions if (found := {
            s for s in settled if s // 2**v % 2
            and any(t & ~mask == s & ~mask and not t // 2**v % 2 for t in settled)})}

    @cached_property
    def _positions(self) -> list[int]:
        return [d.variable for d in self.circuit.devices]
