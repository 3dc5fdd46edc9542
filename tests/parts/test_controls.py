"""Receivers, programmer, clock, thermostats, cut-outs, relays: what they join, and no more.

Terminals of receivers and programmers, off outputs live when idle, links for mains: common
practice, no source. Thermostats that make on fall and on rise: common practice, numbers vary.
Cut-outs: non-self-resetting as in EN 60335-1 and Approved Document G key terms.
"""

from __future__ import annotations

import pytest

from tests.parts.bench import bench, pairs, part

# Part; what is worked in it; every pair of terminals that it joins then.
JOINED = [
    ("K1 receiver-two-channel", "", ""),
    ("K1 receiver-two-channel", "heating", "L heating-on"),
    ("K1 receiver-two-channel", "hot-water", "L water-on"),
    ("K1 receiver-two-channel-own-clocks", "", ""),
    ("K1 receiver-two-channel-own-clocks", "heating", "L heating-on"),
    ("K1 receiver-two-channel-own-clocks", "hot-water", "L water-on"),
    ("K1 programmer-hot-water-with-heating", "", ""),
    ("K1 programmer-hot-water-with-heating", "hot-water", "L water-on"),
    *(("K1 programmer-hot-water-with-heating", worked, {"heating-on", "water-on"})
      for worked in ("heating", "heating hot-water")),
    ("K1 receiver-two-channel-volt-free", "", ""),
    ("K1 receiver-two-channel-volt-free", "heating", "heating-common heating-on"),
    ("K1 receiver-two-channel-volt-free", "hot-water", "water-common water-on"),
    ("K1 receiver-two-channel-volt-free", "heating hot-water",
     "heating-common heating-on, water-common water-on"),
    *((f"K1 {control}", worked, joined)
      for control in ("receiver-two-channel-off-outputs", "programmer-off-outputs")
      for worked, joined in (
          ("", {"heating-off", "water-off"}), ("heating", {"heating-on", "water-off"}),
          ("hot-water", {"heating-off", "water-on"}),
          ("heating hot-water", {"heating-on", "water-on"}))),
    ("K1 receiver-one-channel-volt-free", "", "common off"),
    ("K1 receiver-one-channel-volt-free", "heating", "common on"),
    ("K1 time-switch", "", "common off"),
    ("K1 time-switch", "clock", "common on"),
    ("K1 relay-change-over", "", "common break"),
    ("K1 relay-change-over", "contact", "common make"),
    ("K1 relay-two-pole", "", "common-1 break-1, common-2 break-2"),
    ("K1 relay-two-pole", "contact", "common-1 make-1, common-2 make-2"),
    ("B1 room-thermostat", "", "L call"),
    ("B1 room-thermostat", "air", ""),
    ("B1 room-thermostat-neutral", "", "L call"),
    ("B1 room-thermostat-neutral", "air", ""),
    ("B1 cylinder-thermostat", "", "common call"),
    ("B1 cylinder-thermostat", "water", "common satisfied"),
    ("B1 cylinder-thermostat-strapped", "", "common call"),
    ("B1 cylinder-thermostat-strapped", "water", "common satisfied"),
    ("B1 cylinder-thermostat-cut-out", "", "common call, cut-out-in cut-out-out"),
    ("B1 cylinder-thermostat-cut-out", "water", "common satisfied, cut-out-in cut-out-out"),
    ("B1 cylinder-thermostat-cut-out", "cut-out", "common call"),
    ("B1 cylinder-thermostat-cut-out", "water cut-out", "common satisfied"),
    ("B1 pipe-thermostat", "", "common cold"),
    ("B1 pipe-thermostat", "pipe", "common warm"),
    ("B1 frost-thermostat", "", ""),
    ("B1 frost-thermostat", "air", "L frost"),
    ("F1 overheat-cut-out", "", "in out"),
    ("F1 overheat-cut-out", "state", ""),
    ("F1 overheat-cut-out-self-resetting", "", "in out"),
    ("F1 overheat-cut-out-self-resetting", "state", ""),
    ("X1 terminal-strip-12", "", ""),
]


@pytest.mark.parametrize(("mounted", "worked", "joined"), JOINED)
def test_it_joins_what_the_table_says_and_nothing_else(
    mounted: str, worked: str, joined: str | set[str]
) -> None:
    lone, name = bench(mounted), mounted.split()[0]
    found = lone.joined(lone.state(*(f"{name}.{each}" for each in worked.split())), name)
    if isinstance(joined, str):
        assert found == pairs(joined)
    else:  # all joined to L, and so to each other
        assert {terminal for pair in found for terminal in pair} == joined | {"L"}


@pytest.mark.parametrize("control", ["receiver-two-channel-volt-free",
                                     "receiver-one-channel-volt-free", "time-switch"])
def test_volt_free_contacts_give_mains_only_over_a_link_from_line(control: str) -> None:
    single = control != "receiver-two-channel-volt-free"
    common, on = ("common", "on") if single else ("heating-common", "heating-on")
    call = "K1.clock" if control == "time-switch" else "K1.heating"
    supply = "L K1:L, N K1:N"
    apart = bench(f"K1 {control}", supply)
    assert apart.reads(apart.settled(call), f"K1:{on}") == "0 V, nothing drives it"
    linked = bench(f"K1 {control}", f"{supply}, K1:L K1:{common}")
    assert linked.reads(linked.settled(call), f"K1:{on}") == "230 V"


@pytest.mark.parametrize("control", ["receiver-two-channel-off-outputs", "programmer-off-outputs"])
def test_off_outputs_are_live_while_the_system_is_idle(control: str) -> None:
    on = bench(f"K1 {control}", "L K1:L, N K1:N")
    idle = on.settled()
    assert [on.reads(idle, f"K1:{t}") for t in ("heating-off", "water-off")] == ["230 V", "230 V"]


@pytest.mark.parametrize(("line", "call", "satisfied", "always"), [
    ("B1:L", "B1:call", False, False), ("B1:call", "B1:L", True, True)])
def test_a_swap_of_line_and_call_leaves_the_accelerator_on(
    line: str, call: str, satisfied: bool, always: bool
) -> None:
    # Found in trade explanations.
    on = bench("B1 room-thermostat-neutral", f"L {line}, N B1:N")
    assert on.runs(on.settled(), "B1.accelerator")
    assert on.runs(on.settled("B1.air"), "B1.accelerator") == always
    assert on.reads(on.settled(), call) == "230 V"


@pytest.mark.parametrize(("worked", "live"), [
    ("", False), ("B2.air", True), ("B2.air B3.pipe", False), ("B3.pipe", False)])
def test_frost_and_pipe_thermostat_in_series_call_while_both_are_cold(
    worked: str, live: bool
) -> None:
    # About 5 and 25 °C, common practice; both together bridge the demand, so the valve opens.
    on = bench("B2 frost-thermostat, B3 pipe-thermostat, M1 two-port-valve",
               "L B2:L, B2:frost B3:common, B3:cold M1:motor, N M1:N")
    assert on.worked(on.settled(*worked.split()), "M1.valve") == live


@pytest.mark.parametrize(("thermostat", "degrees"), [
    ("frost-thermostat", "about 5 °C"), ("pipe-thermostat", "about 25 °C")])
def test_frost_protection_says_what_it_is_set_to(thermostat: str, degrees: str) -> None:
    assert degrees in part(thermostat).source


@pytest.mark.parametrize(("cut_out", "switch", "resets"), [
    ("overheat-cut-out", "state", "by hand"),
    ("overheat-cut-out-self-resetting", "state", "by itself"),
    ("cylinder-thermostat-cut-out", "cut-out", "by hand")])
def test_a_cut_out_says_how_it_resets(cut_out: str, switch: str, resets: str) -> None:
    assert part(cut_out).switches[switch].resets == resets


def test_a_two_pole_relay_keeps_two_supplies_and_two_voltages_apart() -> None:
    # BS 7671 414, from memory: extra-low voltage is never joined to mains.
    on = bench("K1 relay-two-pole, E1 boiler-extra-low-voltage, M1 two-port-valve",
               "L K1:coil, N K1:N, L K1:common-1, K1:make-1 M1:motor, N M1:N, "
               "K1:common-2 E1:call-1, K1:make-2 E1:call-2, L E1:L, N E1:N")
    state = on.settled()
    assert on.worked(state, "M1.valve")
    assert on.fires(state)
    live = [t.name for t in on.system.circuit.terminals
            if t.carries == "extra-low voltage" and t.name in on.system.ever_live]
    assert live == []


@pytest.mark.parametrize("name", [
    "receiver-two-channel-volt-free", "receiver-one-channel-volt-free", "room-thermostat",
    "receiver-two-channel-off-outputs", "programmer-off-outputs", "time-switch"])
def test_contacts_are_marked_3_1_amperes(name: str) -> None:
    # EN 60730-1, from memory: 3 A resistive, 1 A inductive.
    ratings = {(c.rating.amps, c.rating.inductive)
               for c in part(name).contacts.values() if c.rating}
    assert ratings == {(3, 1)}
