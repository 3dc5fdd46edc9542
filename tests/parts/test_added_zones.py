"""What an added zone, frost protection and a heater put back bring with them, on the bench.

Programmable thermostat that needs no neutral, limit thermostat that opens above its setting: common
practice, no source. Frost and pipe thermostat in series, both together opening the valve: common
practice. A heater in stored water without a cut-out of its own: refused, Approved Document G 3.33.
"""

from __future__ import annotations

import pytest

from generator.checks.rules import heat_source_without_cut_out
from tests.parts.bench import bench, pairs, part

JOINED = [
    ("B1 programmable-room-thermostat", "", ""),
    ("B1 programmable-room-thermostat", "heating", "L call"),
    ("B1 flow-limit-thermostat", "", "common below"),
    ("B1 flow-limit-thermostat", "flow", "common above"),
    ("X1 terminal-strip-6", "", ""),
]


@pytest.mark.parametrize(("mounted", "worked", "joined"), JOINED)
def test_it_joins_what_the_table_says_and_nothing_else(
    mounted: str, worked: str, joined: str
) -> None:
    lone = bench(mounted)
    name = mounted.split()[0]
    state = lone.state(*(f"{name}.{each}" for each in worked.split()))
    assert lone.joined(state, name) == pairs(joined)


def test_a_programmable_thermostat_needs_no_neutral_and_its_contact_is_3_1_amperes() -> None:
    # EN 60730-1 marking, from memory: 3 A resistive, 1 A inductive.
    shape = part("programmable-room-thermostat")
    assert {terminal.carries for terminal in shape.terminals.values()} == {"line", "earth"}
    assert not shape.loads
    assert {(c.rating.amps, c.rating.inductive)
            for c in shape.contacts.values() if c.rating} == {(3, 1)}


@pytest.mark.parametrize(("worked", "open_"), [
    ("", False), ("B1.heating", True), ("B1.heating B2.flow", False), ("B2.flow", False)])
def test_a_limit_thermostat_in_series_shuts_the_valve_while_the_flow_is_too_hot(
    worked: str, open_: bool
) -> None:
    on = bench("B1 programmable-room-thermostat, B2 flow-limit-thermostat, M1 two-port-valve",
               "L B1:L, B1:call B2:common, B2:below M1:motor, N M1:N")
    assert on.worked(on.settled(*worked.split()), "M1.valve") == open_


def test_the_limit_of_the_floor_resets_by_itself_and_is_no_cut_out() -> None:
    # A cut-out works in abnormal operation and its user cannot set it: EN 60335-1 3.7.3.
    assert {each.kind for each in part("flow-limit-thermostat").switches.values()} == {
        "temperature"}


FROST = ("K1 receiver-two-channel, B4 frost-thermostat, B5 pipe-thermostat, M1 two-port-valve, "
         "E1 boiler-switched-line-only")
VALVE = ("L K1:L, N K1:N, K1:heating-on M1:motor, N M1:N, L M1:switch-in, "
         "M1:switch-out E1:control-in, L E1:L, N E1:N, L B4:L, B4:frost B5:common")


@pytest.mark.parametrize(("lands", "opens"), [("M1:motor", True), ("E1:control-in", False)])
def test_frost_on_the_valve_opens_it_first_and_frost_on_the_boiler_fires_it_shut(
    lands: str, opens: bool
) -> None:
    # The demand is bridged so that the valve opens, not only the boiler: common practice.
    on = bench(FROST, f"{VALVE}, B5:cold {lands}")
    state = on.settled("B4.air")
    assert (on.worked(state, "M1.valve"), on.fires(state)) == (opens, True)
    assert not on.fires(on.settled("B4.air", "B5.pipe"))


@pytest.mark.parametrize("cold", [True, False])
def test_a_heater_with_a_thermostat_only_heats_while_cold_and_the_rule_speaks(cold: bool) -> None:
    on = bench("E1 immersion-heater-thermostat-only", "L E1:L, N E1:N, E E1:E")
    assert on.fires(on.settled(*([] if cold else ["E1.water"]))) == cold
    findings = heat_source_without_cut_out.judge(on.system).findings
    assert [finding.message for finding in findings] == [
        "`E1.element` has no cut-out of its own."]


def test_the_plain_heater_passes_where_the_one_with_a_thermostat_only_does_not() -> None:
    on = bench("E1 immersion-heater", "L E1:L, N E1:N, E E1:E")
    assert heat_source_without_cut_out.judge(on.system).findings == ()


def test_the_underfloor_box_opens_a_zone_valve_from_its_own_line_and_the_valve_fires() -> None:
    # Call, then relay, then valve, then boiler: an end switch fires only an open way. From memory.
    on = bench("K3 underfloor-wiring-box, B1 programmable-room-thermostat, M3 two-port-valve, "
               "M5 thermal-actuator, G1 circulating-pump, E1 boiler-switched-line-only",
               "L K3:L, N K3:N, E K3:E, L B1:L, B1:call K3:room-1-call, K3:L K3:boiler-1, "
               "K3:boiler-2 M3:motor, N M3:N, L M3:switch-in, M3:switch-out E1:control-in, "
               "L E1:L, N E1:N, K3:pump-L G1:L, K3:pump-N G1:N, K3:actuator-1-L M5:L, "
               "K3:actuator-1-N M5:N")
    calls, idle = on.settled("B1.heating"), on.settled()
    assert all(on.worked(calls, name) for name in ("K3.relay", "M3.valve", "M5.valve"))
    assert on.fires(calls)
    assert on.runs(calls, "G1.motor")
    assert not on.fires(idle)
    assert not on.runs(idle, "G1.motor")
