"""The current in every contact, core and load, over many states, each network solved once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from generator.circuit.elements import Load
from generator.circuit.flat import Circuit
from generator.circuit.networks import Network, held_volts, networks, networks_in
from generator.circuit.nodal import VOLTS, Branch, Ohms, branch, corners, solve_volts
from generator.circuit.path import Element
from generator.circuit.potentials import Potentials
from generator.circuit.tables import Table

INDUCTIVE = ("motor", "pump")
"""Kinds of load that count against the bracketed figure of a contact (EN 60730-1 marking)."""
ALMOST_OPEN = 1e9
"""Ohm in the place of what is replaced by its current: what hangs between two stays defined."""

Span = tuple[float, float]
"""Least and most; the same where no load is known only as a range."""


@dataclass(frozen=True)
class Flow:
    """What flows in one network, in every state of `states` that has this very network.

    `amps` by element and `volts` by terminal are least and most; `inductive` is the most in A that
    goes to motors and pumps. Not `predictable`: electronics that do not stand at full voltage have
    a part in it and were counted as a resistance.
    """

    states: Table
    amps: Mapping[Element, Span]
    volts: Mapping[str, Span]
    inductive: Mapping[Element, float]
    predictable: bool


@dataclass(frozen=True)
class Worst:
    """The most that an element carries, in A, and in which states."""

    amps: float
    states: Table
    predictable: bool


NONE = Worst(0.0, 0, True)


def flows(potentials: Potentials, states: Table) -> tuple[Flow, ...]:
    """Return what flows in each different network of these states; shorted states are left out."""
    grouped = networks(potentials, states)
    held = held_volts(potentials.circuit)
    return tuple(_flow(network, where, held) for network, where in grouped.items())


def worst(flowing: Iterable[Flow], element: Element, inductive: bool = False) -> Worst:
    """Return the most that an element carries, or the most for motors and pumps alone."""
    most = NONE
    for flow in flowing:
        if element not in flow.amps:
            continue
        amps = flow.inductive[element] if inductive else flow.amps[element][1]
        # Equal to a millionth counts as equal, so that rounding does not choose between states.
        if abs(amps - most.amps) <= 1e-6 * amps:
            sure = most.predictable and flow.predictable
            most = Worst(most.amps, most.states | flow.states, sure)
        elif amps > most.amps:
            most = Worst(amps, flow.states, flow.predictable)
    return most


def drawing(circuit: Circuit, flow: Flow, element: Element) -> tuple[Load, ...]:
    """Return the loads that draw a hundredth of their current or more through an element."""
    network, held = tuple(flow.amps), held_volts(circuit)
    loads = tuple(each for each in network if isinstance(each, Load))
    *_, most = corners(loads)
    branches, touched = _branches(network, most, held)
    volts = solve_volts(list(branches.values()), touched)
    through = {load: _caused(branches, volts, touched, [load]) for load in loads}
    return tuple(load for load in loads if through[load][element] > 0.01 * through[load][load])


def most_possible(circuit: Circuit, inductive: bool = False) -> dict[Element, float]:
    """Return a current in A that an element cannot exceed while nothing is shorted; others are 0.

    All loads of its network together at full voltage, or the motors and pumps of it: between two
    voltages no resistance sees more than both, and current runs downhill, so that none passes an
    element twice. It costs no solving.
    """
    bound: dict[Element, float] = {}
    for network in networks_in(circuit, None):
        amps = sum(_most_amps(each) for each in network if isinstance(each, Load)
                   and (each.kind in INDUCTIVE or not inductive))
        bound.update(dict.fromkeys(network, amps))
    return bound


def _most_amps(load: Load) -> float:
    return max(load.watts, load.up_to or 0) / VOLTS


def _flow(network: Network, states: Table, held: Mapping[str, float]) -> Flow:
    loads = [each for each in network if isinstance(each, Load)]
    solved = [_solve(network, ohms, held) for ohms in corners(loads)]
    return Flow(
        states,
        {each: _span(amps[each] for _, amps, _ in solved) for each in network},
        {terminal: _span(volts[terminal] for volts, _, _ in solved) for terminal in solved[0][0]},
        {each: max(motors[each] for _, _, motors in solved) for each in network},
        all(load.linear or _full(load, solved[0][0]) for load in loads))


def _full(load: Load, volts: Mapping[str, float]) -> bool:
    # Joints take a little; a load in series with another takes much more than 1 %.
    return abs(volts[load.a] - volts[load.b]) > 0.99 * VOLTS


def _span(values: Iterable[float]) -> Span:
    values = list(values)
    return min(values), max(values)


Amps = dict[Element, float]


def _solve(
    network: Network, ohms: Ohms, held: Mapping[str, float]
) -> tuple[dict[str, float], Amps, Amps]:
    """Return volts, currents, and the part of the currents that goes to motors and pumps."""
    branches, touched = _branches(network, ohms, held)
    volts = solve_volts(list(branches.values()), touched)
    amps = {each: abs(_through(made, volts)) for each, made in branches.items()}
    motors = [each for each in ohms if each.kind in INDUCTIVE]
    return volts, amps, _caused(branches, volts, touched, motors)


Branches = dict[Element, Branch]


def _branches(
    network: Network, ohms: Ohms, held: Mapping[str, float]
) -> tuple[Branches, dict[str, float]]:
    """Return the elements as resistances, and the volts of the supply terminals they touch."""
    touched = {t: held[t] for each in network for t in (each.a, each.b) if t in held}
    return {each: branch(each, ohms) for each in network}, touched


def _caused(
    branches: Branches, volts: Mapping[str, float], held: Mapping[str, float],
    loads: Iterable[Load],
) -> Amps:
    """Return the currents that some of the loads alone cause, by superposition.

    Each of them is replaced by the current it takes, and the supplies by a joint.
    """
    drawn = {load: _through(branches[load], volts) for load in loads}
    taken: dict[str, float] = {}
    for load, amps in drawn.items():
        taken[load.a] = taken.get(load.a, 0.0) - amps
        taken[load.b] = taken.get(load.b, 0.0) + amps
    rest = {each: replace(made, ohms=ALMOST_OPEN) if each in drawn else made
            for each, made in branches.items()}
    caused = solve_volts(list(rest.values()), dict.fromkeys(held, 0.0), taken)
    return {each: abs(drawn[each] if isinstance(each, Load) and each in drawn
                      else _through(made, caused)) for each, made in rest.items()}


def _through(made: Branch, volts: Mapping[str, float]) -> float:
    return (volts[made.a] - volts[made.b]) / made.ohms
