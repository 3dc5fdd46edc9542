"""What feeds and what isolates; immersion heaters; the underfloor box.

An unswitched fused unit isolates only by its fuse, a switched one opens line and neutral: BS 7671
Table 537.4, found in a reading of it. Unswitched socket, so that unplugging breaks both poles: a
trade rule. Each heater its own hand-reset cut-out: Approved Document G 3.33. Underfloor box: from
memory.
"""

from __future__ import annotations

from itertools import product

import pytest

from tests.parts.bench import bench, part

POLES = {"supply-L": "load-L", "supply-N": "load-N", "supply-E": "load-E"}
# Part; what is on or in; whether line, neutral and earth pass.
PASSES = [
    ("fused-connection-unit", "switch fuse", "LNE"),
    ("fused-connection-unit", "fuse", "E"),
    ("fused-connection-unit", "switch", "NE"),
    ("fused-connection-unit", "", "E"),
    ("fused-connection-unit-unswitched", "fuse", "LNE"),
    ("fused-connection-unit-unswitched", "", "NE"),  # the neutral stays joined
    ("double-pole-switch", "switch", "LNE"),
    ("double-pole-switch", "", "E"),
    ("plug-and-socket", "plug fuse", "LNE"),
    ("plug-and-socket", "plug", "NE"),
    ("plug-and-socket", "fuse", ""),
    ("plug-and-socket", "", ""),
]


@pytest.mark.parametrize(("supply", "worked", "passed"), PASSES)
def test_it_passes_line_neutral_and_earth_as_said(supply: str, worked: str, passed: str) -> None:
    lone = bench(f"Q2 {supply}")
    joined = lone.joined(lone.state(*(f"Q2.{each}" for each in worked.split())), "Q2")
    assert "".join(a[-1] for a, b in POLES.items() if (a, b) in joined) == passed
    assert {pair for pair in joined if pair[0][-1] != pair[1][-1]} == set()


HEATERS = {"immersion-heater": False, "immersion-heater-boost": True}


@pytest.mark.parametrize(("heater", "boosts"), HEATERS.items())
def test_an_immersion_heater_heats_while_cold_and_healthy_and_boosted(
    heater: str, boosts: bool
) -> None:
    on = bench(f"E1 {heater}", "L E1:L, N E1:N, E E1:E")
    switches = ("water", "cut-out", *(("boost",) if boosts else ()))
    for worked in product((False, True), repeat=len(switches)):
        water, cut_out, boost = (*worked, True)[:3]
        names = [f"E1.{name}" for name, on_ in zip(switches, worked, strict=True) if on_]
        assert on.fires(on.settled(*names)) == (boost and not water and not cut_out)


@pytest.mark.parametrize("heater", HEATERS)
def test_an_immersion_heater_has_its_own_hand_reset_cut_out_and_13_amperes(heater: str) -> None:
    cut_out = part(heater).switches["cut-out"]
    assert (cut_out.kind, cut_out.resets) == ("cut-out", "by hand")
    # 3 kW at 230 V, guidance on BS 7671 314.1; a pump contact of 1 A is no place for it.
    assert round(part(heater).loads["element"].watts / 230) == 13
    assert all(c.rating and c.rating.amps >= 13 for c in part(heater).contacts.values())


ZONES = (1, 2, 3)
BOX = ", ".join((
    "L K1:L, N K1:N, E K1:E, K1:pump-L G1:L, K1:pump-N G1:N, K1:boiler-1 E1:call-1, "
    "K1:boiler-2 E1:call-2, L E1:L, N E1:N",
    *(f"K1:room-{z}-L B{z}:L, B{z}:call K1:room-{z}-call, K1:actuator-{z}-L M{z}:L, "
      f"K1:actuator-{z}-N M{z}:N" for z in ZONES)))
ON_BOX = ", ".join((
    "K1 underfloor-wiring-box, G1 circulating-pump, E1 boiler-volt-free",
    *(f"B{z} room-thermostat, M{z} thermal-actuator" for z in ZONES)))


@pytest.mark.parametrize("cold", list(product((False, True), repeat=len(ZONES))))
def test_any_zone_opens_its_own_actuator_and_runs_pump_and_boiler(cold: tuple[bool, ...]) -> None:
    on = bench(ON_BOX, BOX)
    state = on.settled(*(f"B{z}.air" for z, calls in zip(ZONES, cold, strict=True) if not calls))
    assert tuple(on.worked(state, f"M{z}.valve") for z in ZONES) == cold
    assert on.runs(state, "G1.motor") == any(cold)
    assert on.fires(state) == any(cold)


def test_the_boiler_pair_of_the_underfloor_box_never_meets_mains() -> None:
    assert not {"K1:boiler-1", "K1:boiler-2", "E1:call-1"} & bench(ON_BOX, BOX).system.ever_live
