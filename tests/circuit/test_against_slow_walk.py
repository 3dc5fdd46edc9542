"""The model, all states at once, against one plain walk over each state."""

from __future__ import annotations

import pytest
from hypothesis import find, given, settings

from generator.circuit.flat import Circuit
from generator.circuit.moves import Motion, move
from generator.circuit.potentials import Potentials, solve
from generator.circuit.tables import states
from tests.circuit.flagship import WALLS, system
from tests.circuit.made_circuits import circuits, made, relays
from tests.circuit.slow_walk import SlowMotion


def differences(potentials: Potentials, slow: SlowMotion) -> tuple[int, list[str]]:
    """Return how many answers were compared, and every difference."""
    circuit, compared, found = potentials.circuit, 0, []
    runs = {load.name: potentials.runs(load) for load in circuit.loads}
    for terminal in circuit.terminals:
        tables = potentials.standings(terminal.name)
        not_known = potentials.not_known(terminal.name)
        for state, seen in enumerate(slow.seen):
            said = [s.value for s, table in tables.items() if table >> state & 1]
            expected = [seen.standing[terminal.name]]
            hidden = bool(not_known >> state & 1), terminal.name in seen.not_known
            compared += 1
            if said != expected or hidden[0] != hidden[1]:
                found.append(f"{terminal.name} in state {state}: {said} {expected} {hidden}")
    for state, seen in enumerate(slow.seen):
        for name, expected_run in seen.runs.items():
            compared += 1
            if bool(runs[name] >> state & 1) != expected_run:
                found.append(f"{name} in state {state}: should run is {expected_run}")
    return compared, found


def as_sets(motion: Motion) -> dict[str, object]:
    return {
        "stable": set(states(motion.stable)),
        "reachable": set(states(motion.reachable)),
        "endless": set(states(motion.endless)),
        "layers": {s: i for i, layer in enumerate(motion.layers) for s in states(layer)},
        "races": {v: set(states(table)) for v, table in motion.races()},
        "memories": {v: set(states(table)) for v, table in motion.memories()},
    }


def walked(slow: SlowMotion) -> dict[str, object]:
    return {
        "stable": slow.stable,
        "reachable": set(slow.distance),
        "endless": slow.endless,
        "layers": slow.distance,
        "races": slow.races(),
        "memories": slow.memories(),
    }


@pytest.mark.parametrize("wall", WALLS)
def test_every_terminal_and_load_of_the_flagship_in_every_state(wall: str) -> None:
    subject = system(wall)
    circuit = subject.circuit
    compared, found = differences(subject.potentials, SlowMotion(circuit))
    assert found == []
    assert compared == (len(circuit.terminals) + len(circuit.loads)) * 2 ** len(circuit.variables)
    assert compared > 7_000


@pytest.mark.parametrize("wall", WALLS)
def test_the_flagship_moves_as_walked(wall: str) -> None:
    subject = system(wall)
    slow = SlowMotion(subject.circuit)
    assert as_sets(subject.motion) == walked(slow)
    assert len(slow.stable) > 30
    assert not slow.endless
    assert not slow.races()
    assert not slow.memories()


@settings(max_examples=300, deadline=None)
@given(circuits())
def test_any_circuit_is_what_is_walked(circuit: Circuit) -> None:
    compared, found = differences(solve(circuit), SlowMotion(circuit))
    assert found == []
    assert compared == (len(circuit.terminals) + len(circuit.loads)) * 2 ** len(circuit.variables)


@settings(max_examples=200, deadline=None)
@given(circuits())
def test_any_circuit_moves_as_walked(circuit: Circuit) -> None:
    assert as_sets(move(solve(circuit))) == walked(SlowMotion(circuit))


@settings(max_examples=400, deadline=None)
@given(relays())
def test_any_relays_move_as_walked(circuit: Circuit) -> None:
    assert as_sets(move(solve(circuit))) == walked(SlowMotion(circuit))


@pytest.mark.parametrize("name", ["endless", "races", "memories"])
def test_the_made_relays_do_all_that_relays_can_do(name: str) -> None:
    tries = settings(max_examples=500, derandomize=True, database=None, deadline=None)
    circuit = find(relays(), lambda made: bool(walked(SlowMotion(made))[name]), settings=tries)
    assert as_sets(move(solve(circuit)))[name]


def buzzer() -> Circuit:
    """Return a relay whose own contact breaks its coil: it never settles while called."""
    return made(["X1:1", "X1:2"], [], [("Q1:L", "X1:1", ((0, True),)),
                                       ("X1:1", "X1:2", ((1, False),))],
                [("X1:2", "Q1:N", "motor", 6.0)], 1, [0])


def latch() -> Circuit:
    """Return a valve whose end switch feeds its own motor once it is open."""
    return made(["X1:1"], [], [("Q1:L", "X1:1", ((0, True),)), ("Q1:L", "X1:1", ((1, True),))],
                [("X1:1", "Q1:N", "motor", 6.0)], 1, [0])


def rivals() -> Circuit:
    """Return two relays, each of which cuts the other off once it has pulled in."""
    return made(["X1:1", "X1:2", "X1:3"], [],
                [("Q1:L", "X1:1", ((0, True),)), ("X1:1", "X1:2", ((2, False),)),
                 ("X1:1", "X1:3", ((1, False),))],
                [("X1:2", "Q1:N", "motor", 6.0), ("X1:3", "Q1:N", "motor", 6.0)], 1, [0, 1])


def test_a_relay_that_breaks_its_own_coil_runs_for_ever() -> None:
    motion = move(solve(buzzer()))
    assert set(states(motion.endless)) == {0b01, 0b11}
    assert as_sets(motion) == walked(SlowMotion(buzzer()))


def test_a_valve_that_feeds_itself_remembers_the_call() -> None:
    motion = move(solve(latch()))
    assert [(v, set(states(t))) for v, t in motion.memories()] == [(1, {0b10})]
    assert not motion.endless
    assert not list(motion.races())
    assert as_sets(motion) == walked(SlowMotion(latch()))


def test_a_load_with_its_line_shorted_to_earth_does_not_run() -> None:
    circuit = made([], [], [("Q1:L", "Q1:E", ((0, True),))], [("Q1:L", "Q1:N", "motor", 6.0)],
                   1, [])
    assert solve(circuit).runs(circuit.loads[0]) == 0b01


def test_two_relays_that_lock_each_other_out_race() -> None:
    motion = move(solve(rivals()))
    # Called and neither pulled in: either may win. Both pulled in never comes about.
    assert [(v, set(states(t))) for v, t in motion.races()] == [(1, {0b001}), (2, {0b001})]
    assert {v for v, _ in motion.memories()} == {1, 2}
    assert as_sets(motion) == walked(SlowMotion(rivals()))
