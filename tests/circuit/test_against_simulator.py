"""The model against a circuit simulator: the class of every terminal, the voltage of every load."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.circuit.flat import Circuit
from generator.circuit.potentials import Potentials, Standing, solve
from tests.circuit.flagship import WALLS, system
from tests.circuit.made_circuits import circuits, made
from tests.circuit.spice import NEAR, VOLTS, Simulated, hard, netlist, simulated, soft

pytestmark = pytest.mark.ngspice


def wrong(potentials: Potentials, state: int, seen: Simulated) -> tuple[int, list[str]]:
    """Return how many answers were compared in one state, and every difference."""
    compared, found = 0, []
    for terminal, standing in seen.standing.items():
        said = potentials.standing(terminal, state).value
        compared += bool(standing)
        if standing and said != standing:
            found.append(f"{terminal} in state {state}: {said}, simulated {standing}")
    for load in potentials.circuit.loads:
        if seen.shorted:
            continue
        compared += 1
        ends = {seen.standing[load.a], seen.standing[load.b]}
        across = abs(seen.equal[load.a] - seen.equal[load.b])
        full = abs(across - VOLTS) < NEAR and "earth" not in ends
        if full != bool(potentials.runs(load) >> state & 1):
            found.append(f"{load.name} in state {state}: {across} V")
        # With the watts as written a load may stand in series with a bigger one, hence "between".
        as_written = abs(seen.true[load.a] - seen.true[load.b])
        if "between" not in ends and not min(as_written, abs(as_written - VOLTS)) < NEAR:
            found.append(f"{load.name} in state {state}: {as_written} V with its true load")
    return compared, found


def all_wrong(potentials: Potentials, states: range) -> tuple[int, list[str]]:
    compared, found = 0, []
    for state, seen in simulated(potentials.circuit, states).items():
        more, there = wrong(potentials, state, seen)
        compared, found = compared + more, found + there
    return compared, found


@pytest.mark.parametrize("wall", WALLS)
def test_every_terminal_and_load_of_the_flagship_in_every_state(wall: str) -> None:
    potentials = system(wall).potentials
    circuit, size = potentials.circuit, potentials.space.size
    compared, found = all_wrong(potentials, range(size))
    assert found == []
    assert compared == (len(circuit.terminals) + len(circuit.loads)) * size
    assert compared > 7_000


@settings(max_examples=60, deadline=None)
@given(circuits(electronics=False, volt_free=False), st.data())
def test_any_circuit_is_what_is_simulated(circuit: Circuit, data: st.DataObject) -> None:
    potentials = solve(circuit)
    first = data.draw(st.integers(0, max(0, potentials.space.size - 16)))
    states = range(first, min(first + 16, potentials.space.size))
    compared, found = all_wrong(potentials, states)
    assert found == []
    hard_ends = [t.name for t in circuit.terminals for s in states if potentials.standing(
        t.name, s) in (Standing.LINE, Standing.NEUTRAL, Standing.EARTH, Standing.SHORT)]
    assert compared >= len(hard_ends) >= len(states)


EVERY_CLASS = made(
    ["X1:live", "X1:neutral", "X1:soft-live", "X1:soft-neutral", "X1:between", "X1:floating",
     "X2:live", "X2:earth"], [],
    [("Q1:L", "X1:live", ()), ("Q1:N", "X1:neutral", ()), ("Q1:E", "X2:earth", ()),
     ("Q2:L", "X2:live", ()), ("X2:live", "Q2:N", ((0, True),))],
    [("X1:live", "X1:soft-live", "motor", 6.0), ("X1:neutral", "X1:soft-neutral", "motor", 6.0),
     ("X1:live", "X1:between", "motor", 6.0), ("X1:between", "X1:neutral", "call input", 1.0)],
    1, [], supplies=2)


def test_all_classes_are_told_apart() -> None:
    potentials = solve(EVERY_CLASS)
    healthy, shorted = simulated(EVERY_CLASS, range(2)).values()
    names = ("X1:live", "X1:neutral", "X1:soft-live", "X1:soft-neutral", "X1:between",
             "X1:floating", "X2:earth")
    assert [healthy.standing[n] for n in names] == [
        "live", "neutral", "live through a load", "neutral through a load", "between", "floating",
        "earth"]
    assert shorted.standing["X2:live"] == "shorted"
    assert {*healthy.standing.values(), *shorted.standing.values()} >= {s.value for s in Standing}
    for state, seen in ((0, healthy), (1, shorted)):
        compared, found = wrong(potentials, state, seen)
        assert found == []
        assert compared > 8
    # 230 V over 6 W and 1 W in series: 230 x 52,900 / (52,900 + 8,816.7) V is left over the input.
    assert healthy.true["X1:between"] == pytest.approx(197.1, abs=0.1)


def test_what_the_simulator_cannot_settle_is_refused() -> None:
    assert hard(0.0, 0.0) == "neutral"
    assert hard(115.0, 115.0) == "shorted"
    assert hard(0.0, 229.0) == ""
    assert soft(0.0, 229.0) == "floating"
    for low, high in ((5.0, 5.0), (226.0, 226.0), (100.0, 120.0)):
        with pytest.raises(AssertionError, match="reference"):
            soft(low, high)


def test_conductors_are_merged_and_nothing_else() -> None:
    circuit = system("fitted").circuit
    net = netlist(circuit).net
    assert all(net[c.a] == net[c.b] for c in circuit.conductors)
    assert net["K1:L"] != net["K1:heating-on"]
    assert set(net) == {t.name for t in circuit.terminals}
