"""Two-port valves and actuators: where they go, what their end switches join.

Roles of brown, blue, grey, orange and white, spring return, rest positions and 5 to 7 W: common
practice, no source. Motor open and motor close, and heated actuators: from memory.
"""

from __future__ import annotations

import pytest

from tests.parts.bench import Pairs, bench, pairs, part

# Valve; what is fed besides neutral; position worked; what its end switch joins.
TABLE = [
    ("two-port-valve", "", False, ""),
    ("two-port-valve", "L M1:motor", True, "switch-in switch-out"),
    ("two-port-valve-change-over", "", False, "switch-in switch-shut"),
    ("two-port-valve-change-over", "L M1:motor", True, "switch-in switch-open"),
    ("two-port-valve-without-end-switch", "", False, ""),
    ("two-port-valve-without-end-switch", "L M1:motor", True, ""),
    ("two-port-valve-rests-open", "", False, ""),
    ("two-port-valve-rests-open", "L M1:motor", True, ""),
    ("thermal-actuator", "", False, ""),
    ("thermal-actuator", "L M1:L", True, ""),
]


@pytest.mark.parametrize(("valve", "fed", "worked", "joined"), TABLE)
@pytest.mark.parametrize("start", [(), ("M1.valve",)])
def test_it_goes_where_its_motor_or_spring_takes_it(
    valve: str, fed: str, worked: bool, joined: str, start: tuple[str, ...]
) -> None:
    on = bench(f"M1 {valve}", f"N M1:N, {fed}")
    state = on.settled(*start)
    assert on.worked(state, "M1.valve") == worked
    assert ours(on.joined(state, "M1")) == pairs(joined)


def ours(joined: Pairs) -> Pairs:
    """Leave out what the bench itself joins."""
    return {pair for pair in joined if set(pair) <= {
        "switch-in", "switch-out", "switch-open", "switch-shut"}}


@pytest.mark.parametrize(("valve", "rest"), [
    ("two-port-valve", "shut"), ("two-port-valve-change-over", "shut"),
    ("two-port-valve-without-end-switch", "shut"), ("two-port-valve-rests-open", "open"),
    ("motor-open-motor-close-valve", "shut"), ("thermal-actuator", "shut"),
])
def test_it_rests_as_said(valve: str, rest: str) -> None:
    assert part(valve).positions["valve"].rest == rest


@pytest.mark.parametrize(("fed", "from_shut", "from_open"), [
    ("", False, True),  # without power it stays where it is
    ("L M1:opening", True, True),
    ("L M1:closing", False, False),
    ("L M1:opening, L M1:closing", False, True),
])
def test_motor_open_and_motor_close_holds_without_power(
    fed: str, from_shut: bool, from_open: bool
) -> None:
    on = bench("M1 motor-open-motor-close-valve", f"N M1:N, {fed}")
    assert on.worked(on.settled(), "M1.valve") == from_shut
    assert on.worked(on.settled("M1.valve"), "M1.valve") == from_open


def test_the_line_that_is_not_fed_is_not_predictable_behind_the_capacitor() -> None:
    on = bench("M1 motor-open-motor-close-valve", "N M1:N, L M1:opening")
    assert on.reads(on.settled(), "M1:closing") == "not predictable"


@pytest.mark.parametrize("valve", [
    "two-port-valve", "two-port-valve-change-over", "two-port-valve-without-end-switch",
    "two-port-valve-rests-open"])
def test_a_motor_takes_5_to_7_watts(valve: str) -> None:
    assert 5 <= part(valve).loads["motor"].watts <= 7


def test_six_cores_come_with_the_change_over_end_switch() -> None:
    tails = {name: t.tail for name, t in part("two-port-valve-change-over").terminals.items()}
    assert tails == {"motor": "BN", "N": "BU", "E": "GNYE", "switch-in": "GY",
                     "switch-open": "OG", "switch-shut": "WH"}


def test_the_five_cores_of_the_mid_position_valve() -> None:
    terminals = part("mid-position-valve").terminals.items()
    tails = {name: each.tail for name, each in terminals if each.tail}
    assert tails == {"white": "WH", "grey": "GY", "orange": "OG", "N": "BU", "E": "GNYE"}
