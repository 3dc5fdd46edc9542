"""The work replayed core by core and looked at state by state; shares no code with the order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from generator.checks.subject import JobSubject
from generator.sitework.order import Stage
from tests.circuit.slow_walk import spread

Wires = dict[str, list[str]]
"""By core or link: what its two ends are on; `loose ...` where one hangs."""


def wires(subject: Any) -> Wires:
    return {c.name: [c.a, c.b] for c in subject.circuit.conductors if c.kind != "joint"}


def is_loose(point: str) -> bool:
    return point.startswith("loose ")


@dataclass
class Wall:
    """A wall on which ends come off and go on, with the insides of both systems."""

    job: JobSubject
    on: Wires = field(default_factory=dict)

    def __post_init__(self) -> None:
        new = {name: [f"loose {name} 1", f"loose {name} 2"] for name in wires(self.job.fitted)}
        self.on = {**new, **wires(self.job.found)}

    def off(self, name: str, terminal: str) -> str:
        """Take an end off and return what it is called while it hangs loose."""
        ends = self.on[name]
        at = ends.index(terminal)
        number = 2 if f"loose {name} 1" in ends else 1
        ends[at] = f"loose {name} {number}"
        return ends[at]

    def land(self, name: str, terminal: str) -> None:
        ends = self.on[name]
        ends[next(i for i, end in enumerate(ends) if is_loose(end))] = terminal

    def step(self, stage: Stage) -> dict[str, str]:
        """Do a step; return by loose end the terminal that it came off."""
        handling = stage.handling
        if handling.on:
            for terminal in handling.terminals:
                self.land(handling.run.name, terminal)
            return {}
        return {self.off(handling.run.name, t): t for t in handling.terminals}

    def reach(self) -> set[str]:
        """Return the terminals that a person can touch in parts where anything changes."""
        before, after = wires(self.job.found), wires(self.job.fitted)
        touched = {end.split(":")[0] for name in before.keys() | after.keys()
                   for end in set(before.get(name, [])) ^ set(after.get(name, []))}
        return {f"{name}:{terminal}" for system in (self.job.job.found, self.job.job.fitted)
                for name, part in system.parts.items() if name in touched
                for terminal, each in part.part.terminals.items()
                if each.tail is None and each.row != "inside"}

    def live(self) -> set[str]:
        """Return every terminal and loose end that is live in some state of any supply."""
        loads, contacts, joints, closed = self._insides()
        names = sorted({v for c in contacts for v, _ in c[2]})
        supplies = {s.line: s for side in (self.job.fitted, self.job.found)
                    for s in side.circuit.supplies}.values()
        points = {end for pair in self.on.values() for end in pair} | {
            end for pair in [*joints, *loads, *closed] for end in pair} | {
            end for a, b, _ in contacts for end in (a, b)} | {
            end for s in supplies for end in (s.line, s.neutral, s.earth)}
        # What conductors join is joined in every state; only contacts are tried state by state.
        base = _islands(points, [*self.on.values(), *joints])
        shown = {s.line for s in supplies} | {end for s in supplies for end in (s.neutral, s.earth)}
        few = {base[p] for p in shown} | {base[p] for pair in [*loads, *closed] for p in pair} | {
            base[p] for a, b, _ in contacts for p in (a, b)}
        live: set[str] = set()
        for words in product((False, True), repeat=len(names)):
            state = dict(zip(names, words, strict=True))
            of = _islands(few, [(base[a], base[b]) for a, b, when in contacts
                                if all(state[v] == w for v, w in when)])
            zeros = {of[base[end]] for s in supplies for end in (s.neutral, s.earth)}
            beside = [(of[base[a]], of[base[b]]) for a, b in [*loads, *closed]]
            fed = spread({of[base[s.line]] for s in supplies}, beside, zeros)
            live |= {island for island in few if of[island] in fed}
        return {point for point in points if base[point] in live}

    def _insides(self) -> tuple[list[Any], ...]:
        """Return loads, contacts, joints and closed pairs of parts with anything landed on them."""
        used = {end.split(":")[0] for pair in self.on.values() for end in pair}
        loads, contacts, joints, closed = {}, {}, {}, {}
        for side in (self.job.fitted, self.job.found):
            circuit = side.circuit
            used |= {s.line.split(":")[0] for s in circuit.supplies}
            loads |= {x.name: (x.a, x.b) for x in circuit.loads
                      if x.kind not in ("volt-free input", "burnt out")}
            contacts |= {c.name: (c.a, c.b, [(circuit.variables[v].name, w) for v, w in c.when])
                         for c in circuit.contacts}
            joints |= {c.name: (c.a, c.b) for c in circuit.conductors if c.kind == "joint"}
            closed |= {(g[0], t): (g[0], t) for g in circuit.closed for t in g[1:]
                       if circuit.terminal[t].carries != "earth"}
        return tuple([each for each in group.values() if each[0].split(":")[0] in used]
                     for group in (loads, contacts, joints, closed))


def _islands(points: set[str], joined: Iterable[Any]) -> dict[str, str]:
    head = {point: point for point in points}

    def find(point: str) -> str:
        while head[point] != point:
            head[point] = head[head[point]]
            point = head[point]
        return point

    for a, b in joined:
        head[find(a)] = find(b)
    return {point: find(point) for point in points}
