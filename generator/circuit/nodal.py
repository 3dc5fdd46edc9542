"""Nodal analysis of resistances between terminals that are held at a voltage and others.

Magnitudes at 230 V a.c.: a load counts as the resistance that takes its power there, 230²/W;
supplies are stiff; a closed contact or a conductor counts as JOINT_OHMS, so that ways side by side
share.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from generator.circuit.elements import Load
from generator.circuit.path import Element

VOLTS = 230.0
"""Nominal voltage; the Electricity Supply Regulations permit 216.2 to 253.0 V."""
JOINT_OHMS = 0.001
"""Of a closed contact, a link or a core; a judgement, no source: so little that it takes nothing
from a load (3 kW is 17.6 ohm), and the same for all, so that how ways side by side share is fair
but not exact."""
MOST_RANGES = 6
"""Loads of uncertain power of which every combination of ends is tried, 64 at most."""

Ohms = Mapping[Load, float]


@dataclass(frozen=True)
class Branch:
    """A resistance in ohm between two terminals."""

    a: str
    b: str
    ohms: float


def branch(element: Element, loads: Ohms) -> Branch:
    """Return an element as a resistance; each load has that of `loads`."""
    ohms = loads[element] if isinstance(element, Load) else JOINT_OHMS
    return Branch(element.a, element.b, ohms)


def corners(loads: Iterable[Load]) -> Iterator[Ohms]:
    """Yield the loads as resistances: once, or for each combination of least and most power.

    Every voltage of such a network rises or falls with any one resistance all the way, so that its
    least and its most are found where each load is at one of its ends. Beyond MOST_RANGES ranges
    only all least and all most are tried.
    """
    loads = tuple(loads)
    ranged = tuple(load for load in loads if load.up_to)
    known = {load: _ohms(load.watts) for load in loads}
    if len(ranged) > MOST_RANGES:
        yield known
        yield known | {load: _ohms(load.up_to or load.watts) for load in ranged}
        return
    for ends in product(*((load.watts, load.up_to or load.watts) for load in ranged)):
        yield known | {load: _ohms(watts) for load, watts in zip(ranged, ends, strict=True)}


def _ohms(watts: float) -> float:
    return VOLTS**2 / watts


def solve_volts(
    branches: Sequence[Branch], held: Mapping[str, float],
    injected: Mapping[str, float] | None = None,
) -> dict[str, float]:
    """Return the volts of every terminal that hangs on one of `held` (terminal to volts).

    `injected` are currents in A into terminals. What hangs on nothing held is left out.
    """
    import numpy as np  # here, for most checks need no network solved and its start takes 0.1 s

    number = {t: i for i, t in enumerate(_hanging(branches, held))}
    conductance = np.zeros((len(number), len(number)))
    currents = np.zeros(len(number))
    for terminal, amps in (injected or {}).items():
        if terminal in number:
            currents[number[terminal]] += amps
    for each in branches:
        for here, there in ((each.a, each.b), (each.b, each.a)):
            if here not in number:
                continue
            conductance[number[here], number[here]] += 1 / each.ohms
            if there in held:
                currents[number[here]] += held[there] / each.ohms
            else:
                conductance[number[here], number[there]] -= 1 / each.ohms
    solved = np.linalg.solve(conductance, currents) if number else currents
    return {**held, **{t: float(solved[i]) for t, i in number.items()}}


def _hanging(branches: Sequence[Branch], held: Mapping[str, float]) -> list[str]:
    """Return the terminals that are not held and joined to one that is, in order of `branches`."""
    beside: dict[str, list[str]] = {}
    for each in branches:
        beside.setdefault(each.a, []).append(each.b)
        beside.setdefault(each.b, []).append(each.a)
    reached, queue = set(held), list(held)
    while queue:
        fresh = [t for t in beside.get(queue.pop(), ()) if t not in reached]
        reached.update(fresh)
        queue += fresh
    return [terminal for terminal in beside if terminal in reached and terminal not in held]
