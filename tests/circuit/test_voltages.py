"""Voltages of the textbook two-zone system in every setting, on the fitted flagship.

Check values: expected readings to neutral at a healthy 230 V, ideal contacts. Common practice, no
source; the values come from an independent nodal simulation of the textbook system. Left out, for
our system has no such thing: the column "heating satisfied" (the receiver is its own room
thermostat, a link stands where a wired one would go) and the row of a pump apart from the boiler.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.circuit.moves import move
from generator.circuit.potentials import Potentials, solve
from generator.circuit.reading import reading
from tests.circuit.flagship import system

ON = {"Q1.switch": 1, "Q1.fuse": 1}
HEATING, WATER = {"K1.heating": 1}, {"K1.hot-water": 1}
SETTINGS = {
    "off at the connection unit": {"Q1.fuse": 1},
    "idle": ON,
    "water calls, valve moving": ON | WATER,
    "water calls, open": ON | WATER,
    "water satisfied": ON | WATER | {"B1.water": 1},
    "heating calls, open": ON | HEATING,
    "both": ON | HEATING | WATER,
    "water calls, tripped": ON | WATER | {"F2.state": 1},
    "water (tripped) and heating": ON | HEATING | WATER | {"F2.state": 1},
}
# Terminals; then 230 V (1) or 0 V (0) in the order of SETTINGS.
TABLE = (
    ("X1:1 X1:2 E1:L M1:switch-in M2:switch-in", "0 1 1 1 1 1 1 1 1"),
    ("K1:water-on B1:common", "0 0 1 1 1 0 1 1 1"),
    ("B1:call F2:in", "0 0 1 1 0 0 1 1 1"),
    ("B1:satisfied", "0 0 0 0 1 0 0 0 0"),
    ("F2:out M2:motor", "0 0 1 1 0 0 1 0 0"),
    ("K1:heating-on", "0 0 0 0 0 1 1 0 1"),
    ("X1:6 M1:motor", "0 0 0 0 0 1 1 0 1"),
    # The switch core of a shut valve is live whenever the other zone calls: the two are common.
    ("M2:switch-out", "0 0 0 1 0 1 1 0 1"),
    ("M1:switch-out", "0 0 0 1 0 1 1 0 1"),
    ("E1:control-in X1:9", "0 0 0 1 0 1 1 0 1"),
)
VALVES = {"M2.valve": "0 0 0 1 0 0 1 0 0", "M1.valve": "0 0 0 0 0 1 1 0 1"}
BURNER = "0 0 0 1 0 1 1 0 1"
OTHERS = ("Q2.switch", "E2.water", "E2.cut-out")


def states_of(setting: str) -> tuple[int, ...]:
    """Return the state that a setting settles in, and while a valve moves the one before it."""
    subject = system("fitted")
    index, space = subject.circuit.index, subject.potentials.space
    wanted = SETTINGS[setting]
    cube = tuple((index[v.name], bool(wanted.get(v.name))) for v in subject.circuit.variables
                 if not v.moves)
    table = space.cube_table(cube)
    if setting.endswith("moving"):
        shut = tuple((d.variable, False) for d in subject.circuit.devices)
        table &= subject.motion.reachable & ~subject.motion.stable & space.cube_table(shut)
    else:
        table &= subject.motion.settled
    return tuple(s for s in range(space.size) if table >> s & 1)


def only_state(setting: str) -> int:
    (state,) = states_of(setting)
    return state


def volts(marks: str) -> dict[str, float]:
    return dict(zip(SETTINGS, (230.0 * int(mark) for mark in marks.split()), strict=True))


def rows() -> list[tuple[str, str, float]]:
    return [(terminal, setting, expected) for terminals, marks in TABLE
            for terminal in terminals.split() for setting, expected in volts(marks).items()]


@pytest.mark.parametrize(("terminal", "setting", "expected"), rows())
def test_a_terminal_reads_to_neutral_as_the_table_says(
    terminal: str, setting: str, expected: float
) -> None:
    for neutral in ("X1:3", "Q1:supply-N"):
        shown = reading(system("fitted").potentials, only_state(setting), terminal, neutral)
        assert shown.volts == expected, shown


@pytest.mark.parametrize("setting", SETTINGS)
def test_valves_and_burner_settle_as_the_table_says(setting: str) -> None:
    subject, state = system("fitted"), only_state(setting)
    column = list(SETTINGS).index(setting)
    for valve, marks in VALVES.items():
        assert state >> subject.circuit.index[valve] & 1 == int(marks.split()[column])
    (burner,) = (s for s in subject.circuit.heat_sources if s.name == "E1.burner")
    assert subject.potentials.fires(burner) >> state & 1 == int(BURNER.split()[column])


def test_a_moving_valve_has_its_motor_running_and_is_not_open_yet() -> None:
    subject, state = system("fitted"), only_state("water calls, valve moving")
    assert subject.potentials.runs(subject.circuit.load["M2.motor"]) >> state & 1
    assert not state >> subject.circuit.index["M2.valve"] & 1


def without(core: str) -> Potentials:
    circuit = system("fitted").circuit
    kept = tuple(c for c in circuit.conductors if c.name != core)
    assert len(kept) == len(circuit.conductors) - 1
    return solve(replace(circuit, conductors=kept))


def test_blue_of_a_called_valve_is_live_when_its_neutral_is_lost() -> None:
    """Common practice, no source: 230 V on blue with brown live means an open neutral."""
    state = only_state("heating calls, open")
    healthy, lost = system("fitted").potentials, without("W2.BU")
    assert reading(healthy, state, "M1:N", "X1:3").words == "0 V"
    assert reading(lost, state, "M1:N", "X1:3").words == "about 230 V"
    assert reading(lost, only_state("idle"), "M1:N", "X1:3").words == "0 V, nothing drives it"


def test_grey_reads_nothing_when_its_permanent_line_is_lost() -> None:
    """Common practice, no source: grey at 0 V at any time means its permanent line is missing."""
    lost = without("W2.GY")
    settled = move(lost).settled
    states = [s for s in map(only_state, SETTINGS) if settled >> s & 1]
    # A shut valve's grey hangs on nothing; an open one's is fed back from the other valve's switch.
    shut = [s for s in states if not s >> lost.circuit.index["M1.valve"] & 1]
    assert len(shut) >= 4
    assert {reading(lost, s, "M1:switch-in", "X1:3").words for s in shut} == {
        "0 V, nothing drives it"}
