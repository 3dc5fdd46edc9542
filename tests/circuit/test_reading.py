"""What a tester shows: the rules one by one, and the figures against a circuit simulator."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.circuit.flat import Circuit
from generator.circuit.potentials import Potentials, solve
from generator.circuit.reading import NOT_KNOWN, SHOWN, TESTER_OHMS, Reading, reading
from tests.circuit.flagship import system
from tests.circuit.made_circuits import circuits, made
from tests.circuit.spice import NEAR, TRUE, VOLTS, Condition, simulate

TWO = (TRUE, Condition("true", 0.0, VOLTS))


def bench(extra: tuple = ()) -> Circuit:
    """Return loads of all kinds hanging on line or neutral, and one chain between them."""
    return made(
        ["X1:6W", "X1:1W", "X1:electronic", "X1:6W-N", "X1:between", "X1:loose", "X1:loose-too"],
        [], [("X1:loose", "X1:loose-too", ((0, True),)), ("Q1:L", "Q1:N", ((1, True),))],
        [("Q1:L", "X1:6W", "motor", 6.0), ("Q1:L", "X1:1W", "call input", 1.0),
         ("Q1:L", "X1:electronic", "electronics", 120.0), ("X1:6W-N", "Q1:N", "motor", 6.0),
         ("Q1:L", "X1:between", "motor", 6.0), ("X1:between", "Q1:N", "motor", 6.0), *extra],
        2, [], closed=(("X1:loose-too",),))


@pytest.mark.parametrize(("a", "b", "words"), [
    ("Q1:L", "Q1:N", "230 V"),
    ("Q1:L", "Q1:E", "230 V"),
    ("Q1:N", "Q1:E", "0 V"),
    ("Q1:L", "Q1:L", "0 V"),
    ("X1:6W", "Q1:L", "0 V"),
    ("X1:6W", "X1:1W", "0 V"),
    ("X1:6W", "Q1:N", "about 230 V"),
    ("Q1:L", "X1:6W-N", "about 230 V"),
    # 230 V x 200,000 / (200,000 + 8,816.7 + 8,816.7) and / (200,000 + 52,900) ohm
    ("X1:6W", "X1:6W-N", "about 211 V"),
    ("X1:1W", "Q1:N", "about 182 V"),
    ("X1:electronic", "Q1:N", "not predictable"),
    # Two equal loads of 8,816.7 ohm; with the tester beside it one counts 8,444.4 ohm.
    ("X1:between", "Q1:N", "about 113 V"),
    ("X1:between", "Q1:L", "about 113 V"),
    ("X1:between", "X1:electronic", "not predictable"),
    ("X1:loose", "Q1:L", "0 V, nothing drives it"),
    ("X1:loose-too", "Q1:L", "not known"),
])
def test_two_terminals_read_as_said(a: str, b: str, words: str) -> None:
    potentials = solve(bench())
    assert reading(potentials, 0, a, b).words == words
    assert reading(potentials, 0, b, a).words == words


def test_joined_terminals_read_nothing_whatever_they_are() -> None:
    potentials = solve(bench())
    assert reading(potentials, 0b01, "X1:loose", "X1:loose-too").words == "0 V, nothing drives it"
    assert reading(potentials, 0b10, "Q1:L", "Q1:N").words == "0 V"


def test_nothing_is_predicted_while_a_supply_is_shorted() -> None:
    assert reading(solve(bench()), 0b10, "X1:6W", "Q1:N").words == "not predictable"


def test_electronics_anywhere_in_the_way_are_not_overlooked() -> None:
    beside = (("X1:6W", "X1:electronic", "motor", 6.0),)
    assert reading(solve(bench(beside)), 0, "X1:6W", "Q1:N").words == "not predictable"


def test_the_control_terminals_of_a_closed_family_are_not_known() -> None:
    found = system("found").potentials
    on = found.space.cube_table(tuple(
        (found.circuit.index[name], True) for name in ("Q1.switch", "Q1.fuse")))
    state = on.bit_length() - 1
    assert reading(found, state, "K9:L", "K9:N").words == "230 V"
    assert reading(found, state, "M1:motor", "K9:N").words == "not known"
    assert reading(found, state, "E1:data-1", "K9:N").words == "not known"


def ranged(watts: float, up_to: float, other_up_to: float | None = None) -> Circuit:
    """Return two loads in series, the upper one between `watts` and `up_to`, the lower of 6 W."""
    circuit = made(["X1:1"], [], [], [("Q1:L", "X1:1", "pump", watts),
                                      ("X1:1", "Q1:N", "motor", 6.0)], 0, [])
    upper, lower = circuit.loads
    return replace(circuit, loads=(replace(upper, up_to=up_to), replace(lower, up_to=other_up_to)))


@pytest.mark.parametrize(("other", "words", "span"), [
    # 5 W 10,580 ohm or 45 W 1,175.6 ohm, above 6 W and the tester side by side, 8,444.4 ohm.
    (None, "between 102 and 202 V", (102, 202)),
    # The lower one 6 W as well or 12 W, 4,408.3 ohm, with the tester 4,313.2 ohm.
    (12.0, "between 67 and 202 V", (66.6, 202)),
])
def test_a_load_known_as_a_range_gives_an_interval(
    other: float | None, words: str, span: tuple[float, float]
) -> None:
    shown = reading(solve(ranged(5.0, 45.0, other)), 0, "X1:1", "Q1:N")
    assert shown.words == words
    assert shown.volts is None
    assert shown.span == span


def test_a_bridge_of_loads_reads_across_its_middle() -> None:
    """Two dividers of 6 and 12 W, one upside down; by Thévenin 76.67 V behind 5,877.8 ohm."""
    circuit = made(["X1:1", "X1:2"], [], [],
                   [("Q1:L", "X1:1", "motor", 6.0), ("X1:1", "Q1:N", "motor", 12.0),
                    ("Q1:L", "X1:2", "motor", 12.0), ("X1:2", "Q1:N", "motor", 6.0)], 0, [])
    open_volts, behind = VOLTS * (2 / 3 - 1 / 3), 2 * (8816.667 * 4408.333 / 13225.0)
    shown = reading(solve(circuit), 0, "X1:1", "X1:2")
    assert shown.volts == pytest.approx(open_volts * TESTER_OHMS / (TESTER_OHMS + behind), 0.005)
    assert shown.words == "about 74 V"


def fits(shown: Reading, volts: float) -> bool:
    """Whether a simulated voltage is what was said, to 1 % where it is a figure."""
    if shown.words == "about 230 V":
        return 0.95 * VOLTS - NEAR < volts < VOLTS + NEAR
    if shown.volts is None:
        return shown == NOT_KNOWN
    return abs(volts - shown.volts) < max(0.01 * volts, SHOWN)


def misread(potentials: Potentials, states: list[int], a: str, b: str) -> tuple[Counter, list]:
    """Return how often what was said, and every reading that the simulator does not bear out."""
    solved = simulate(potentials.circuit, states, TWO, (a, b, TESTER_OHMS))
    said = {s: reading(potentials, s, a, b) for s in states}
    wrong = [(a, b, s, said[s].words, volts) for (_, s), volts in solved.items()
             if not fits(said[s], abs(volts[a] - volts[b]))]
    return Counter(each.words for each in said.values()), wrong


@pytest.mark.ngspice
def test_every_pair_of_the_bench_reads_as_simulated() -> None:
    circuit = bench()
    linear = solve(made(
        [t.name for t in circuit.terminals if t.part == "X1"], [], [],
        [(x.a, x.b, x.kind, x.watts) for x in circuit.loads if x.linear], 0, []))
    said, wrong = Counter(), []
    pairs = list(combinations([t.name for t in circuit.terminals], 2))
    for a, b in pairs:
        more, there = misread(linear, [0], a, b)
        said, wrong = said + more, wrong + there
    assert wrong == []
    assert said.total() == len(pairs) == 45
    assert len(said) == 10, said


@pytest.mark.ngspice
def test_every_terminal_of_the_flagship_reads_to_neutral_as_simulated() -> None:
    subject = system("fitted")
    circuit = subject.circuit
    off = tuple((circuit.index[n], False) for n in ("Q2.switch", "E2.water", "E2.cut-out"))
    table = subject.settled & subject.potentials.space.cube_table(off)
    states = [s for s in range(subject.potentials.space.size) if table >> s & 1]
    said, wrong = Counter(), []
    for terminal in circuit.terminals:
        if terminal.name != "X1:3":
            more, there = misread(subject.potentials, states, terminal.name, "X1:3")
            said, wrong = said + more, wrong + there
    assert wrong == []
    assert said.total() == (len(circuit.terminals) - 1) * len(states)
    assert said["230 V"] > 300
    assert said["0 V"] > 300


@pytest.mark.ngspice
@settings(max_examples=80, deadline=None)
@given(circuits(closed_parts=False, electronics=False, volt_free=False), st.data())
def test_any_reading_of_any_circuit_is_as_simulated(circuit: Circuit, data: st.DataObject) -> None:
    potentials = solve(circuit)
    a, b = data.draw(st.lists(st.sampled_from([t.name for t in circuit.terminals]), min_size=2,
                              max_size=2, unique=True))
    states = [s for s in range(potentials.space.size) if not potentials.shorted >> s & 1][:32]
    said, wrong = misread(potentials, states, a, b) if states else (Counter(), [])
    assert wrong == []
    assert said.total() == len(states)
