"""What a two-pole voltage tester shows between two terminals in one state."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heappop, heappush

from generator.circuit.flat import Circuit, Load
from generator.circuit.path import conducting, find_path
from generator.circuit.potentials import Potentials, Standing

VOLTS = 230.0
TESTER_OHMS = 200_000.0
"""Impedance of a two-pole tester without its load buttons; a judgement, no source. It matters only
where an end hangs on a load; a meter of some 10 megohms shows more there, and ghosts elsewhere."""
ABOUT = 0.95
"""From this share of 230 V on, "about 230 V" is said; a judgement, no source."""

LIVE = {Standing.LINE, Standing.SOFT_LINE}
HARD = {Standing.LINE, Standing.NEUTRAL, Standing.EARTH}


@dataclass(frozen=True)
class Reading:
    """What is shown: `volts`, or None where no one figure can be given, and what is said."""

    volts: float | None
    words: str


NOTHING = Reading(0.0, "0 V")
UNDRIVEN = Reading(0.0, "0 V, nothing drives it")
FULL = Reading(VOLTS, "230 V")
ABOUT_FULL = Reading(VOLTS, "about 230 V")
SOMEWHERE = Reading(None, "somewhere between 0 and 230 V")
NOT_PREDICTABLE = Reading(None, "not predictable")
NOT_KNOWN = Reading(None, "not known")


def reading(potentials: Potentials, state: int, a: str, b: str) -> Reading:
    """Return what a tester of TESTER_OHMS shows between terminals `a` and `b` in a state.

    It never proves anything dead: where "0 V" is expected, prove the tester, test, prove again.
    """
    ends = (a, b)
    standings = {potentials.standing(end, state) for end in ends}
    if find_path(potentials.circuit, state, (a,), b):
        return UNDRIVEN if standings == {Standing.FLOATING} else NOTHING
    if potentials.shorted >> state & 1:
        return NOT_PREDICTABLE
    if any(_hidden(potentials, end, state) for end in ends):
        return NOT_KNOWN
    if Standing.FLOATING in standings:
        return UNDRIVEN
    if Standing.BETWEEN not in standings and len({s in LIVE for s in standings}) == 1:
        return NOTHING
    return _across([_to_source(potentials, state, end) for end in ends],
                   Standing.BETWEEN in standings)


def _hidden(potentials: Potentials, terminal: str, state: int) -> bool:
    # Extra-low voltage comes from inside a part, which no circuit here says.
    own = potentials.circuit.terminal[terminal].carries == "extra-low voltage"
    undriven = potentials.standing(terminal, state) is Standing.FLOATING
    return bool(potentials.not_known(terminal) >> state & 1) or (own and undriven)


def _across(ohms: list[float | None], between: bool) -> Reading:
    known = [each for each in ohms if each is not None]
    if len(known) < len(ohms):
        return NOT_PREDICTABLE
    if between:
        return SOMEWHERE
    # Other ways round through loads only lower the resistance: this is the least that is shown.
    share = TESTER_OHMS / (TESTER_OHMS + sum(known))
    if share == 1:
        return FULL
    if share >= ABOUT:
        return ABOUT_FULL
    return Reading(None, f"between {int(VOLTS * share)} and {VOLTS:.0f} V")


def _to_source(potentials: Potentials, state: int, terminal: str) -> float | None:
    """Return the least resistance in ohm over loads from a terminal to where it is held hard.

    None where electronics have a part in it: they are not a resistance (Dijkstra 1959, all the way
    through what is not held hard, so that none is overlooked).
    """
    beside = _beside(potentials.circuit, state)
    queue, seen, least = [(0.0, terminal)], set[str](), float("inf")
    while queue:
        ohms, here = heappop(queue)
        if here in seen:
            continue
        seen.add(here)
        if potentials.standing(here, state) in HARD:
            least = min(least, ohms)
            continue
        for more, other in beside.get(here, ()):
            if more is None:
                return None
            heappush(queue, (ohms + more, other))
    return least


def _beside(circuit: Circuit, state: int) -> dict[str, list[tuple[float | None, str]]]:
    beside: dict[str, list[tuple[float | None, str]]] = {}
    for a, b, ohms in _resistances(circuit, state):
        beside.setdefault(a, []).append((ohms, b))
        beside.setdefault(b, []).append((ohms, a))
    return beside


def _resistances(circuit: Circuit, state: int) -> Iterator[tuple[str, str, float | None]]:
    for element in conducting(circuit, state, through_loads=True):
        ohms: float | None = 0.0
        if isinstance(element, Load):
            ohms = VOLTS**2 / element.watts if element.linear else None
        yield element.a, element.b, ohms
