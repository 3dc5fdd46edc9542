"""Boilers, burner and pump: what fires them, what runs the pump.

Switched line, factory link, permanent line and pump terminals with overrun, 60 to 150 W: common
practice, no source. Pump 4 to 65 W: found in trade tables. Hand reset: EN 60335-1, non-self-
resetting. Oil burner on a switched line: from memory.
"""

from __future__ import annotations

import pytest

from tests.parts.bench import FED, bench, part

MAINS = "L E1:L, N E1:N, E E1:E"
# Boiler; what else is fed or joined; what is worked; whether it fires.
FIRES = [
    *((boiler, joined, (), fires)
      for boiler in ("boiler-switched-line", "boiler-switched-line-only",
                     "combination-boiler-switched-line", "combination-boiler-switched-line-data")
      for joined, fires in (("", False), ("L E1:control-in", True),
                            ("E1:control-out E1:control-in", True))),  # the factory link
    *((boiler, joined, (), fires)
      for boiler in ("boiler-pump-overrun", "boiler-pump-terminals", "boiler-with-limiter")
      for joined, fires in (("", False), ("L E1:control-in", True))),
    *((boiler, joined, (), fires)
      for boiler in ("boiler-volt-free", "boiler-extra-low-voltage",
                     "combination-boiler-volt-free", "combination-boiler-volt-free-data")
      for joined, fires in (("", False), ("E1:call-1 E1:call-2", True))),
    ("boiler-with-limiter", "L E1:control-in", ("E1.limiter",), False),
]


@pytest.mark.parametrize(("boiler", "joined", "worked", "fires"), FIRES)
def test_it_fires_on_its_call_and_on_nothing_else(
    boiler: str, joined: str, worked: tuple[str, ...], fires: bool
) -> None:
    on = bench(f"E1 {boiler}", f"{MAINS}, {joined}")
    assert on.fires(on.settled(*worked)) == fires


@pytest.mark.parametrize("boiler", sorted({row[0] for row in FIRES}))
def test_without_permanent_line_it_does_not_fire(boiler: str) -> None:
    call = ("E1:call-1 E1:call-2" if "call-1" in part(boiler).terminals else "L E1:control-in")
    on = bench(f"E1 {boiler}", f"N E1:N, E E1:E, {call}")
    assert not on.fires(on.settled())


def test_no_voltage_is_read_across_an_open_volt_free_pair_of_mains() -> None:
    on = bench("E1 boiler-volt-free", MAINS)
    assert on.reads(on.settled(), "E1:call-1", "E1:call-2") == "0 V, nothing drives it"


def test_what_an_extra_low_voltage_pair_reads_is_its_makers_affair() -> None:
    on = bench("E1 boiler-extra-low-voltage", MAINS)
    assert on.reads(on.settled(), "E1:call-1", "E1:call-2") == "not known"


PUMP = "E1:pump-L G1:L, E1:pump-N G1:N, E1:pump-E G1:E"


@pytest.mark.parametrize(("boiler", "position", "call", "start", "pumps", "after"), [
    ("boiler-pump-overrun", "overrun", False, False, False, False),
    ("boiler-pump-overrun", "overrun", False, True, True, False),  # the overrun, then its end
    ("boiler-pump-overrun", "overrun", True, True, True, True),
    ("boiler-pump-terminals", "pump-relay", False, False, False, False),
    ("boiler-pump-terminals", "pump-relay", True, True, True, True),
])
def test_the_pump_runs_from_the_boilers_own_terminals(
    boiler: str, position: str, call: bool, start: bool, pumps: bool, after: bool
) -> None:
    on = bench(f"E1 {boiler}, G1 circulating-pump",
               f"{MAINS}, {PUMP}, {'L E1:control-in' if call else ''}")
    worked = (f"E1.{position}",) if start else ()
    assert on.runs(on.state(*FED, *worked), "G1.motor") == pumps
    assert on.runs(on.settled(*worked), "G1.motor") == after


def test_the_overrun_needs_the_permanent_line() -> None:
    on = bench("E1 boiler-pump-overrun, G1 circulating-pump", f"{MAINS}, {PUMP}")
    assert not on.runs(on.state("E1.overrun"), "G1.motor")


def test_the_overrun_lasts_5_to_10_minutes() -> None:
    assert part("boiler-pump-overrun").positions["overrun"].shuts_in == "5 to 10 minutes"
    relay = part("boiler-pump-terminals").positions["pump-relay"]
    assert relay.shuts_in == "at once"


@pytest.mark.parametrize("boiler", ["combination-boiler-switched-line-data",
                                    "combination-boiler-volt-free-data"])
def test_a_thermostat_on_the_bus_may_ask_too_and_nobody_knows_what(boiler: str) -> None:
    # The inside of a maker's own control is not known: common practice, no source.
    on = bench(f"E1 {boiler}, B8 data-thermostat",
               f"{MAINS}, E1:data-1 B8:data-1, E1:data-2 B8:data-2")
    (source,) = on.system.circuit.heat_sources
    assert source.also_asks == ("E1:data-1", "E1:data-2")
    assert part("data-thermostat").closed == ("data-1", "data-2")
    assert on.reads(on.settled(), "B8:data-1", "B8:data-2") == "not known"


@pytest.mark.parametrize(("tripped", "fires"), [((), True), (("E1.limiter",), False)])
def test_an_oil_burner_runs_whole_on_its_switched_line(
    tripped: tuple[str, ...], fires: bool
) -> None:
    on = bench("E1 oil-burner", MAINS)
    assert on.fires(on.settled(*tripped)) == fires
    off = bench("E1 oil-burner", "N E1:N, E E1:E")
    assert not off.fires(off.settled(*tripped))


@pytest.mark.parametrize(("line", "fires"), [("", False), ("L E1:L", True)])
def test_an_older_boiler_runs_whole_on_its_switched_line(line: str, fires: bool) -> None:
    on = bench("E1 boiler-one-switched-line", f"N E1:N, E E1:E, {line}")
    assert on.fires(on.settled()) == fires
    assert {load.kind for load in part("boiler-one-switched-line").loads.values()} == {"call input"}


@pytest.mark.parametrize("boiler", ["boiler-with-limiter", "oil-burner"])
def test_a_limiter_is_reset_by_hand(boiler: str) -> None:
    limiter = part(boiler).switches["limiter"]
    assert (limiter.kind, limiter.resets) == ("cut-out", "by hand")


@pytest.mark.parametrize("boiler", sorted({row[0] for row in FIRES} | {"oil-burner"}))
def test_a_boiler_takes_60_to_150_watts(boiler: str) -> None:
    loads = part(boiler).loads
    assert 60 <= sum(load.watts for load in loads.values() if load.kind in (
        "electronics", "motor")) <= 150


def test_a_pump_is_known_only_as_a_range() -> None:
    motor = part("circulating-pump").loads["motor"]
    assert (motor.kind, motor.watts, motor.up_to) == ("pump", 4, 65)
    assert part("circulating-pump").letter == "G"  # IEC 81346-2
