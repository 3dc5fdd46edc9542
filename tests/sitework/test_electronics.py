"""Electronics come off in a box that is opened, or at the strip; loads are not taken for faults."""

from __future__ import annotations

import pytest

from generator.sitework.coverage import Shows, coverage
from generator.sitework.dead_stages import work_dead_points
from generator.sitework.electronics import electronics, low_loads, parted, through_loads
from tests.sitework.jobs import CONVERSIONS, combinations
from tests.sitework.test_openings import combination

WIRED = "wired-programmer-to-wireless-two-zone"
NO_STRIP = "combination-boiler-time-switch-to-wireless"


def test_a_boiler_that_stays_shut_is_parted_at_the_strip() -> None:
    done = combination(WIRED)
    off = {each.part: each.cores for each in electronics(done.job.fitted, done.opened)}
    assert off == {"K1": (), "E1": (("W4.BN", "X1:1"), ("W4.BU", "X1:3"), ("W4.BK", "X1:9"))}
    assert "E1" not in {point.part for point in work_dead_points(done)}


@pytest.mark.parametrize("name", CONVERSIONS)
def test_what_stays_shut_touches_nothing_that_is_read_once_its_cores_are_off(name: str) -> None:
    for done in combinations(name):
        fitted = done.job.fitted
        for off in electronics(fitted, done.opened):
            assert bool(off.cores) == (off.part not in done.opened)
            of = parted(fitted.circuit, {core for core, _ in off.cores}).nets.of
            inside = {of[t.name] for t in fitted.circuit.terminals
                      if t.part == off.part and t.carries != "earth" and fitted.landed(t.name)}
            assert off.part in done.opened or inside.isdisjoint(
                of[t.name] for t in fitted.circuit.terminals
                if t.part in done.opened and t.in_reach)


def test_a_boiler_without_a_strip_is_opened_by_a_person_on_the_gas_register() -> None:
    # Gas Safety (Installation and Use) Regulations 1998, regulation 3.
    done = combination(NO_STRIP)
    assert "E1" not in done.place.opened
    point = next(each for each in work_dead_points(done) if each.part == "E1")
    assert point.competence == "gas"
    assert {"E1:L", "E1:N", "E1:control-in"} <= {row.terminal for row in point.rows}


def test_what_is_wrong_inside_a_shut_boiler_is_not_claimed_to_show_dead() -> None:
    done = combination(WIRED)
    covered = coverage(done.job.fitted, done.opened)
    bridged = next(each for each in covered.faults
                   if "E1:control-out" in each.fault.words and "bridged" in each.fault.words)
    assert Shows.DEAD not in bridged.shows
    assert bridged.surest is Shows.FUNCTION


def test_an_oil_burner_and_an_older_pump_read_low_and_their_lines_come_off() -> None:
    # Winding resistances of burner and pump motors: common practice, no source.
    done = combination("oil-burner-to-wireless-receiver")
    low = low_loads(done.job.fitted, done.opened)
    assert {off.part: off.cores for off in low} == {
        "E1": (("W2.BN", "X1:9"),), "G1": (("W5.BN", "X1:9"),)}
    assert through_loads(done.job.fitted, low) == (
        "an older pump some hundred Ω", "an oil burner some tens of Ω")


def test_where_only_valves_are_in_the_circuit_nothing_reads_low() -> None:
    done = combination(WIRED)
    assert low_loads(done.job.fitted, done.opened) == ()
    assert through_loads(done.job.fitted, ()) == ("valve motors show some kΩ",)


def test_a_pump_that_comes_off_with_its_boiler_is_not_named_again() -> None:
    done = combination("mid-position-to-wireless-receiver")
    assert "G1" in done.job.fitted.wall.parts
    assert low_loads(done.job.fitted, done.opened) == ()
