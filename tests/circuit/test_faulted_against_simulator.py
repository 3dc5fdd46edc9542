"""Every shipped system, and some hundred faulty circuits, against a circuit simulator."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import pytest

from generator.circuit.faults import Fault, FaultKind, single_faults
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.potentials import Potentials, Standing, solve
from generator.circuit.reach import nets
from generator.circuit.reading import TESTER_OHMS, reading
from generator.circuit.tables import states
from tests.circuit.spice import NEAR, TRUE, VOLTS, Simulated, simulate, simulated
from tests.sitework.shipped import SYSTEMS, shipped

pytestmark = pytest.mark.ngspice

DRAWN = 450
BATCHES = 10


@cache
def drawn() -> tuple[Fault, ...]:
    """Return faults drawn at random, the same every time, as many from each shipped system."""
    return tuple(fault for each in by_system().values() for fault in each)


@cache
def by_system() -> dict[str, list[Fault]]:
    chance, share = random.Random(1974), -(-DRAWN // len(SYSTEMS))
    return {name: chance.sample(single_faults(shipped(name).circuit), share) for name in SYSTEMS}


def pieces(circuit: Circuit) -> list[set[int]]:
    """Return the variables of each piece of a circuit that nothing joins to the rest."""
    elements = (*circuit.conductors, *circuit.contacts, *circuit.loads)
    joined = nets((t.name for t in circuit.terminals), ((e.a, e.b) for e in elements))
    variables: dict[int, set[int]] = {}
    for contact in circuit.contacts:
        variables.setdefault(joined.of[contact.a], set()).update(v for v, _ in contact.when)
    return list(variables.values())


def settled(potentials: Potentials) -> list[int]:
    """Return stable states in which every piece is found as it is in any stable state at all."""
    stable, chosen = list(states(move(potentials).stable)), set[int]()
    for variables in pieces(potentials.circuit):
        mask = sum(1 << v for v in variables)
        chosen |= set({state & mask: state for state in reversed(stable)}.values())
    return sorted(chosen)


def ran(potentials: Potentials, state: int, seen: Simulated) -> list[str]:
    """Return the loads that run, or do not, otherwise than simulated."""
    found = []
    for load in potentials.circuit.loads:
        if load.kind in ("volt-free input", "burnt out"):
            # No current to be seen: what calls is tried against the plain walk.
            continue
        ends = {seen.standing[load.a], seen.standing[load.b]}
        across = abs(seen.equal[load.a] - seen.equal[load.b])
        full = abs(across - VOLTS) < NEAR and "earth" not in ends
        if full != bool(potentials.runs(load) >> state & 1):
            found.append(f"{load.name} in state {state}: {across} V")
    return found


def agrees(circuit: Circuit, chosen: list[int], said: str) -> int:
    """Assert that model and simulator agree in these states; return how much was compared."""
    potentials, compared = solve(circuit), 0
    for state, seen in simulated(circuit, chosen).items():
        for terminal, standing in seen.standing.items():
            if standing:
                compared += 1
                assert potentials.standing(terminal, state) == standing, (
                    f"{said}: {terminal} in state {state}")
        if not seen.shorted:
            compared += len(circuit.loads)
            assert ran(potentials, state, seen) == [], said
    return compared


@pytest.mark.parametrize("batch", range(BATCHES))
def test_class_of_every_terminal_and_what_runs_in_stable_states(batch: int) -> None:
    compared = sum(agrees(fault.circuit, settled(solve(fault.circuit)), fault.words)
                   for fault in drawn()[batch::BATCHES])
    assert compared > 4_000


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_stable_state_of_every_shipped_system(name: str) -> None:
    subject = shipped(name)
    stable = list(states(subject.motion.stable))
    compared = agrees(subject.circuit, stable, name)
    assert compared == len(stable) * (len(subject.circuit.terminals) + len(subject.circuit.loads))
    settings = 2 ** sum(not variable.moves for variable in subject.circuit.variables)
    assert len(stable) >= settings


def between(potentials: Potentials) -> dict[str, list[int]]:
    """Return the stable states in which each terminal is between, one terminal a net."""
    first = {net: t for t, net in reversed(list(potentials.nets.of.items()))}
    clear = move(potentials).stable & ~potentials.shorted
    tables = {t: potentials.standings(t)[Standing.BETWEEN] & clear for t in first.values()}
    there = {t: [s for s in settled(potentials) if table >> s & 1] for t, table in tables.items()}
    return {t: found for t, found in there.items() if found}


def linear(circuit: Circuit) -> Circuit:
    """Return the circuit with electronics as resistances and no range of power.

    Else nearly every terminal between hangs on electronics, of which no volts are predicted.
    """
    loads = (replace(load, up_to=None, kind="call input" if load.kind == "electronics"
                     else load.kind) for load in circuit.loads)
    return replace(circuit, loads=tuple(loads))


def test_the_volts_of_a_terminal_between_are_those_simulated_with_the_tester_in_place() -> None:
    compared, faults = 0, set[str]()
    for fault in drawn():
        circuit = linear(fault.circuit)
        potentials = solve(circuit)
        neutral = fault.circuit.supplies[0].neutral
        for terminal, there in between(potentials).items():
            said = {state: reading(potentials, state, terminal, neutral) for state in there}
            known = [state for state, shown in said.items() if shown.volts]
            if not known:
                continue
            volts = simulate(circuit, known, (TRUE,), (terminal, neutral, TESTER_OHMS))
            for state in known:
                seen = volts[TRUE, state]
                shown = abs(seen[terminal] - seen[neutral])
                # Readings are said to three digits.
                assert said[state].volts == pytest.approx(shown, rel=0.01), (
                    f"{fault.words}: {terminal} in state {state}")
                compared += 1
            faults.add(fault.words)
    assert compared > 1_000
    assert len(faults) > 20


def test_the_draw_holds_every_kind_of_fault_and_every_system() -> None:
    assert {fault.kind for fault in drawn()} == set(FaultKind)
    assert len(drawn()) >= DRAWN
    assert [name for name, faults in by_system().items() if faults] == list(SYSTEMS)
