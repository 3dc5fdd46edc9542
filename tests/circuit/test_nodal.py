"""Nodal analysis against sums by hand: dividers, a bridge, what floats, loads known as a range."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from generator.circuit.elements import Load
from generator.circuit.nodal import JOINT_OHMS, MOST_RANGES, Branch, branch, corners, solve_volts
from tests.circuit.made_circuits import HERE

HELD = {"L": 230.0, "N": 0.0}
MOTOR = Load("R0", "L", "N", "motor", 6.0, "", HERE)


def test_two_resistances_divide_the_voltage() -> None:
    volts = solve_volts([Branch("L", "m", 100.0), Branch("m", "N", 130.0)], HELD)
    assert volts == {**HELD, "m": pytest.approx(130.0)}


def test_an_unbalanced_bridge_is_as_by_thevenin() -> None:
    """100 and 300 ohm beside 300 and 100 ohm, 50 across: 172.5 and 57.5 V behind 75 ohm each."""
    volts = solve_volts(
        [Branch("L", "a", 100.0), Branch("a", "N", 300.0), Branch("L", "b", 300.0),
         Branch("b", "N", 100.0), Branch("a", "b", 50.0)], HELD)
    assert volts["a"] - volts["b"] == pytest.approx(115.0 * 50 / (50 + 150))


def test_a_current_put_in_lifts_its_terminal() -> None:
    volts = solve_volts([Branch("m", "N", 40.0)], {"N": 0.0}, {"m": 0.5})
    assert volts["m"] == pytest.approx(20.0)


def test_what_hangs_on_nothing_is_left_out() -> None:
    volts = solve_volts([Branch("L", "m", 1.0), Branch("x", "y", 1.0)], HELD)
    assert volts == {**HELD, "m": pytest.approx(230.0)}
    assert solve_volts([], HELD) == HELD


def test_a_resistance_to_itself_changes_nothing() -> None:
    volts = solve_volts([Branch("L", "m", 1.0), Branch("m", "m", 1.0), Branch("m", "N", 1.0)], HELD)
    assert volts["m"] == pytest.approx(115.0)


def test_a_load_takes_its_power_at_230_v() -> None:
    (ohms,) = corners([MOTOR])
    assert branch(MOTOR, ohms) == Branch("L", "N", 230.0**2 / 6)


def test_each_uncertain_load_is_tried_at_both_ends_with_each_other() -> None:
    loads = [replace(MOTOR, name="R1", up_to=12.0), replace(MOTOR, name="R2", up_to=60.0), MOTOR]
    tried = {tuple(round(230**2 / ohms[load]) for load in loads) for ohms in corners(loads)}
    assert tried == {(6, 6, 6), (12, 6, 6), (6, 60, 6), (12, 60, 6)}


def test_too_many_uncertain_loads_are_tried_all_least_and_all_most() -> None:
    loads = [replace(MOTOR, name=f"R{i}", up_to=12.0) for i in range(MOST_RANGES + 1)]
    tried = [{round(230**2 / ohms[load]) for load in loads} for ohms in corners(loads)]
    assert tried == [{6}, {12}]


def test_ten_joints_take_less_than_a_thousandth_from_an_immersion_heater() -> None:
    assert 10 * JOINT_OHMS / (230**2 / 3000) < 0.001


CHECK = """
import sys
from generator.checks.rules.rating_exceeded import RULE
from tests.circuit.flagship import system
assert RULE.judge(system("fitted")).asked > 20
print("numpy" in sys.modules)
"""


def test_a_system_inside_its_ratings_is_checked_without_loading_the_solver() -> None:
    run = subprocess.run([sys.executable, "-c", CHECK], capture_output=True, text=True, check=True)
    assert run.stdout == "False\n"
