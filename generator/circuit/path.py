"""The conducting path between two terminals in one state, element by element."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count

from generator.circuit.elements import Conductor, Contact, Load
from generator.circuit.flat import Circuit

Element = Conductor | Contact | Load


@dataclass(frozen=True)
class Step:
    """One element of a path and the terminal at its far end."""

    through: Element
    terminal: str


@dataclass(frozen=True)
class Path:
    """A conducting path: where it starts, and each step on."""

    start: str
    steps: tuple[Step, ...]

    @property
    def terminals(self) -> tuple[str, ...]:
        """The terminals in the order in which the current meets them."""
        return (self.start, *(step.terminal for step in self.steps))


def conducting(circuit: Circuit, state: int | None, through_loads: bool) -> Iterator[Element]:
    """Yield the elements that conduct in a state; with no state, every contact is closed."""
    yield from circuit.conductors
    yield from (c for c in circuit.contacts if state is None
                or all(bool(state >> v & 1) == value for v, value in c.when))
    if through_loads:
        yield from (load for load in circuit.loads if load.passes)


def find_path(
    circuit: Circuit, state: int | None, starts: Iterable[str], goal: str,
    through_loads: bool = False,
) -> Path | None:
    """Return a conducting path from one of `starts` to `goal` in a state, if any.

    It is one over the fewest loads, and of those a shortest; so a way to what is live through a
    load never leads over neutral. With no state every contact counts as closed.
    """
    beside = _beside(circuit, state, through_loads)
    came: dict[str, tuple[str, Step] | None] = {}
    order = count()
    queue: list[_Ahead] = [(0, 0, next(order), start, None) for start in starts]
    while queue:
        loads, steps, _, terminal, before = heappop(queue)
        if terminal in came:
            continue
        came[terminal] = before
        if terminal == goal:
            return _traced(came, goal)
        for step in beside.get(terminal, ()):
            more = loads + isinstance(step.through, Load)
            heappush(queue, (more, steps + 1, next(order), step.terminal, (terminal, step)))
    return None


_Ahead = tuple[int, int, int, str, tuple[str, Step] | None]
"""Loads and steps so far, when it was found, the terminal, and where it was reached from."""


def _beside(circuit: Circuit, state: int | None, through_loads: bool) -> dict[str, list[Step]]:
    beside: dict[str, list[Step]] = {}
    for element in conducting(circuit, state, through_loads):
        beside.setdefault(element.a, []).append(Step(element, element.b))
        beside.setdefault(element.b, []).append(Step(element, element.a))
    return beside


def _traced(came: dict[str, tuple[str, Step] | None], goal: str) -> Path:
    steps, terminal = [], goal
    while (before := came[terminal]) is not None:
        terminal, step = before
        steps.append(step)
    return Path(terminal, tuple(reversed(steps)))
