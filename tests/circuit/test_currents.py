"""Currents by hand, against what stops without an element, and against a circuit simulator."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings

from generator.circuit.currents import Flow, Worst, flows, most_possible, worst
from generator.circuit.elements import Load
from generator.circuit.flat import Circuit, without
from generator.circuit.networks import networks
from generator.circuit.path import Element
from generator.circuit.potentials import solve
from generator.circuit.tables import states
from tests.circuit.flagship import WALLS, system
from tests.circuit.made_circuits import circuits, made
from tests.circuit.spice import TRUE, VOLTS, simulate


def everything(circuit: Circuit) -> tuple[Flow, ...]:
    return flows(solve(circuit), circuit.space.full)


def carried(circuit: Circuit, name: str, inductive: bool = False) -> Worst:
    element: Element = next(e for e in (*circuit.contacts, *circuit.conductors, *circuit.loads)
                            if e.name == name)
    return worst(everything(circuit), element, inductive)


def test_ways_side_by_side_share_by_how_many_joints_they_have() -> None:
    circuit = made(["X1:1", "X1:2"], [("Q1:L", "X1:1")],
                   [("Q1:L", "X1:2", ()), ("X1:2", "X1:1", ())],
                   [("X1:1", "Q1:N", "element", 2300.0)], 0, [])
    assert carried(circuit, "W0").amps == pytest.approx(10 * 2 / 3, 1e-3)
    assert carried(circuit, "C0").amps == pytest.approx(10 / 3, 1e-3)


def test_motors_and_pumps_are_counted_apart() -> None:
    circuit = made(["X1:1"], [], [("Q1:L", "X1:1", ((0, True),))],
                   [("X1:1", "Q1:N", "motor", 6.0), ("X1:1", "Q1:N", "pump", 45.0),
                    ("X1:1", "Q1:N", "element", 179.0)], 1, [])
    assert carried(circuit, "C0").amps == pytest.approx(1.0, 1e-3)
    assert carried(circuit, "C0", inductive=True).amps == pytest.approx(51 / 230, 1e-3)
    assert carried(circuit, "C0").states == 0b10
    assert carried(circuit, "R2", inductive=True).amps == pytest.approx(0, abs=1e-4)


def test_two_valves_and_a_pump_stay_inside_one_ampere_and_an_immersion_heater_does_not() -> None:
    """EN 60730-1 marking 3(1) A, from memory: two 6 W valves 0.05 A, a 45 W pump 0.2 A; worked."""
    for loads, amps in (([("motor", 6.0)] * 2, 0.05), ([("pump", 45.0)], 0.20)):
        circuit = made(["X1:1"], [], [("Q1:L", "X1:1", ())],
                       [("X1:1", "Q1:N", kind, watts) for kind, watts in loads], 0, [])
        assert carried(circuit, "C0", inductive=True).amps == pytest.approx(amps, abs=0.005)
    heater = made(["X1:1"], [], [("Q1:L", "X1:1", ())], [("X1:1", "Q1:N", "element", 3000.0)],
                  0, [])
    assert carried(heater, "C0").amps == pytest.approx(13.0, abs=0.1)


def test_loads_in_series_take_less_than_either() -> None:
    circuit = made(["X1:1"], [], [], [("Q1:L", "X1:1", "motor", 6.0),
                                      ("X1:1", "Q1:N", "pump", 6.0)], 0, [])
    assert carried(circuit, "R0").amps == pytest.approx(3 / 230)
    assert carried(circuit, "R0", inductive=True).amps == pytest.approx(3 / 230)


def test_a_load_known_as_a_range_is_counted_from_its_least_to_its_most() -> None:
    circuit = made([], [], [], [("Q1:L", "Q1:N", "pump", 5.0)], 0, [])
    circuit = replace(circuit, loads=(replace(circuit.loads[0], up_to=65.0),))
    (flow,) = everything(circuit)
    assert flow.amps[circuit.loads[0]] == (pytest.approx(5 / 230), pytest.approx(65 / 230))


def test_electronics_are_predictable_only_at_full_voltage() -> None:
    straight = made([], [], [], [("Q1:L", "Q1:N", "electronics", 120.0)], 0, [])
    assert carried(straight, "R0") == Worst(pytest.approx(120 / 230), 1, True)
    behind = made(["X1:1"], [], [], [("Q1:L", "X1:1", "motor", 6.0),
                                     ("X1:1", "Q1:N", "electronics", 120.0)], 0, [])
    assert not carried(behind, "R0").predictable


def test_what_leads_nowhere_or_stands_shorted_carries_nothing() -> None:
    circuit = made(["X1:1", "X1:2", "X1:3"], [("Q1:L", "X1:1"), ("X1:2", "X1:3")],
                   [("Q1:L", "Q1:N", ((0, True),))],
                   [("Q1:L", "Q1:N", "motor", 6.0), ("X1:1", "X1:2", "motor", 6.0)], 1, [])
    (network,) = networks(solve(circuit), 0b11)
    assert network == (circuit.loads[0],)
    assert networks(solve(circuit), 0b11)[network] == 0b01


@pytest.mark.parametrize("wall", WALLS)
def test_an_element_carries_what_stops_running_without_it(wall: str) -> None:
    """Another way to the same sum: take the element out; what stops drew its power through it."""
    subject = system(wall)
    flowing = flows(subject.potentials, subject.settled)
    compared = 0
    for element in (*subject.circuit.contacts, *subject.circuit.conductors):
        rest = solve(without(subject.circuit, element))
        stops = {load: subject.potentials.runs(load) & ~rest.runs(load) & subject.settled
                 for load in subject.circuit.loads}
        most = max((sum(load.watts for load, table in stops.items() if table >> s & 1)
                    for s in states(subject.settled)), default=0)
        assert worst(flowing, element).amps == pytest.approx(most / VOLTS, 1e-3, 1e-9), element.name
        compared += most > 0
    assert compared > {"found": 5, "fitted": 25}[wall]


def test_the_flagship_needs_few_solves() -> None:
    subject = system("fitted")
    assert subject.settled.bit_count() == 512
    assert len(networks(subject.potentials, subject.settled)) == 4


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_grouping_states_changes_no_network(circuit: Circuit) -> None:
    potentials = solve(circuit)
    grouped = networks(potentials, potentials.space.full)
    for state in range(potentials.space.size):
        alone = networks(potentials, 1 << state)
        assert set(alone) == {n for n, table in grouped.items() if table >> state & 1}


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_no_element_carries_more_than_is_possible(circuit: Circuit) -> None:
    for inductive in (False, True):
        bound, flowing = most_possible(circuit, inductive), everything(circuit)
        for element in (*circuit.contacts, *circuit.conductors):
            amps = worst(flowing, element, inductive).amps
            assert amps <= bound.get(element, 0) * (1 + 1e-6) + 1e-9


def off(load: Load, amps: float, across: float) -> bool:
    """Whether a current is more than 1 % off the simulated one, or 0.5 V where both are small."""
    full = load.watts / VOLTS
    simulated = across / VOLTS * full
    return abs(amps - simulated) > max(0.01 * simulated, 0.5 / VOLTS * full)


@pytest.mark.ngspice
@settings(max_examples=80, deadline=None)
@given(circuits(electronics=False, volt_free=False))
def test_any_circuit_carries_what_is_simulated(circuit: Circuit) -> None:
    potentials = solve(circuit)
    wanted = list(states(potentials.space.full & ~potentials.shorted))[:32]
    flowing = everything(circuit)
    for (_, state), volts in (simulate(circuit, wanted, [TRUE]) if wanted else {}).items():
        here = [flow for flow in flowing if flow.states >> state & 1]
        for load in circuit.loads:
            amps = next((flow.amps[load][1] for flow in here if load in flow.amps), 0.0)
            assert not off(load, amps, abs(volts[load.a] - volts[load.b])), load
        for terminal, (_, most) in ((t, v) for flow in here for t, v in flow.volts.items()):
            assert most == pytest.approx(volts[terminal], 0.01, 0.5), terminal
