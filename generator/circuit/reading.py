"""What a two-pole voltage tester shows between two terminals in one state."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.circuit.elements import Load
from generator.circuit.flat import Circuit
from generator.circuit.nodal import VOLTS, Branch, branch, corners, solve_volts
from generator.circuit.path import Element, conducting, find_path
from generator.circuit.potentials import Potentials, Standing

TESTER_OHMS = 200_000.0
"""Impedance of a two-pole tester without its load buttons; a judgement, no source. It matters only
where an end hangs on a load; a meter of some 10 megohms shows more there, and ghosts elsewhere."""
ABOUT = 0.95
"""From this share of 230 V on, "about 230 V" is said; a judgement, no source."""

SHOWN = 0.5
"""Volts below which a tester shows nothing; a judgement, no source."""

LIVE = {Standing.LINE, Standing.SOFT_LINE}


@dataclass(frozen=True)
class Reading:
    """What is shown, in volts to three digits, and what is said.

    `volts` is None where no one figure can be given; `span` is its least and most where the power
    of some load is known only as a range.
    """

    volts: float | None
    words: str
    span: tuple[float, float] | None = None


NOTHING = Reading(0.0, "0 V")
UNDRIVEN = Reading(0.0, "0 V, nothing drives it")
FULL = Reading(VOLTS, "230 V")
ABOUT_FULL = Reading(VOLTS, "about 230 V")
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
    if all(_held(potentials, end, state) is not None for end in ends):
        return FULL
    shown = _computed(potentials, state, a, b)
    if shown is None:
        return NOT_PREDICTABLE
    least, most = shown
    if Standing.BETWEEN not in standings and least >= ABOUT * VOLTS:
        return ABOUT_FULL
    return _said(_rounded(least), _rounded(most))


def _hidden(potentials: Potentials, terminal: str, state: int) -> bool:
    # Extra-low voltage comes from inside a part, which no circuit here says.
    own = potentials.circuit.terminal[terminal].carries == "extra-low voltage"
    undriven = potentials.standing(terminal, state) is Standing.FLOATING
    return bool(potentials.not_known(terminal) >> state & 1) or (own and undriven)


def _said(least: float, most: float) -> Reading:
    if most < SHOWN:
        return NOTHING
    if _spoken(least) == _spoken(most):
        return Reading(most, f"about {_spoken(most)} V")
    return Reading(None, f"between {_spoken(least)} and {_spoken(most)} V", (least, most))


def _rounded(volts: float) -> float:
    """Return volts to three digits, so that equal circuits read the same to the last bit."""
    return float(f"{volts:.3g}")


def _spoken(volts: float) -> str:
    return f"{volts:.0f}" if volts >= 10 else f"{volts:.1f}"


def _computed(potentials: Potentials, state: int, a: str, b: str) -> tuple[float, float] | None:
    """Return the least and most in V that a tester between two terminals shows.

    None where electronics have a part in it: they are not a resistance. The network ends wherever a
    terminal is held hard, for supplies are stiff.
    """
    elements, held = _hanging(potentials, state, (a, b))
    loads = [each for each in elements if isinstance(each, Load)]
    if not all(load.linear for load in loads):
        return None
    tester, shown = Branch(a, b, TESTER_OHMS), list[float]()
    for ohms in corners(loads):
        volts = solve_volts([tester, *(branch(each, ohms) for each in elements)], held)
        shown.append(abs(volts[a] - volts[b]))
    return min(shown), max(shown)


def _hanging(
    potentials: Potentials, state: int, starts: Iterable[str]
) -> tuple[tuple[Element, ...], dict[str, float]]:
    """Return all that terminals hang on up to where they are held hard, and the volts there."""
    beside = _beside(potentials.circuit, state)
    elements, held = dict[Element, None](), dict[str, float]()
    queue, seen = list(starts), set[str]()
    while queue:
        here = queue.pop()
        if here in seen:
            continue
        seen.add(here)
        volts = _held(potentials, here, state)
        if volts is not None:
            held[here] = volts
            continue
        for each in beside.get(here, ()):
            elements[each] = None
            queue += (each.a, each.b)
    return tuple(elements), held


def _held(potentials: Potentials, terminal: str, state: int) -> float | None:
    """Return the volts of a terminal that is joined to a source over conductors alone."""
    if potentials.at(potentials.line, terminal) >> state & 1:
        return VOLTS
    zero = (potentials.at(potentials.neutral, terminal)
            | potentials.at(potentials.earth, terminal))
    return 0.0 if zero >> state & 1 else None


def _beside(circuit: Circuit, state: int) -> dict[str, list[Element]]:
    beside: dict[str, list[Element]] = {}
    for element in conducting(circuit, state, through_loads=True):
        beside.setdefault(element.a, []).append(element)
        beside.setdefault(element.b, []).append(element)
    return beside
