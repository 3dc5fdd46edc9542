"""Currents, drops and resistances of a system, worked out by hand and held against the tables."""

from __future__ import annotations

import pytest

from generator.checks.subject import subject
from generator.circuit.conductors import CORD_AMPS
from generator.sitework.numbers import CableRun, LoadDrop, Numbers, numbers
from tests.checks.edited import FITTED, Edit, edited
from tests.circuit.flagship import system

FIGURES = {wall: numbers(system(wall)) for wall in ("found", "fitted")}


def cable(name: str, figures: Numbers = FIGURES["fitted"]) -> CableRun:
    return next(run for run in figures.cables if run.cable == name)


def load(name: str, figures: Numbers = FIGURES["fitted"]) -> LoadDrop:
    return next(drop for drop in figures.loads if drop.load == name)


def fitted(*edits: Edit) -> Numbers:
    return numbers(subject(edited(*edits).fitted))


# Boiler board 120 W and input 1 W, two motors 6 W, receiver 2 W: 135 W.
@pytest.mark.parametrize(("name", "watts"), [
    ("W1", 135), ("W6", 2 + 6 + 6), ("W5", 6), ("W2", 6), ("W3", 6), ("W4", 121),
])
def test_a_cable_carries_the_loads_behind_it(name: str, watts: float) -> None:
    assert cable(name).amps == pytest.approx(watts / 230, 2e-3)


def test_the_whole_system_draws_what_the_rule_of_3_a_allows_for() -> None:
    """3 A are 690 W, trade rule; a domestic budget of 0.35 to 1.05 A, worked out."""
    assert 0.35 <= cable("W1").amps <= 1.05 < 3 == 690 / 230


def test_the_worst_state_is_said_isolators_and_fuses_taken_for_granted() -> None:
    assert dict(cable("W1").settings) == {
        "K1.heating": "call", "K1.hot-water": "call", "B1.water": "cold", "F2.state": "healthy"}
    assert dict(cable("W2").settings) == {"K1.heating": "call"}


def test_a_run_drops_what_the_cord_table_says() -> None:
    # BS 7671 Table 4F3B: 62 mV/A/m for 0.75 mm²; 32 for 1.5 mm², × 1.09 for a 90 °C cord.
    assert cable("W4").drop == pytest.approx(62 * (121 / 230) * 7 / 1000, 2e-3)
    assert cable("W4").percent == pytest.approx(100 * 0.2283 / 230, 2e-3)
    assert cable("W5", FIGURES["found"]).drop == pytest.approx(
        32 * 1.09 * (3000 / 230) * 2 / 1000, 2e-3)


def test_an_ohmmeter_shows_twice_a_core_out_and_back() -> None:
    # IEC 60228 class 5: 26.0 ohm/km for 0.75 mm², 13.3 for 1.5 mm², 39.0 for 0.5 mm².
    assert cable("W4").loop == pytest.approx(2 * 7 * 0.026)
    assert cable("W5").loop == pytest.approx(2 * 2 * 0.0133)
    assert cable("W8", FIGURES["found"]).core == pytest.approx(9 * 0.039)


@pytest.mark.parametrize(("name", "watts", "motors", "made_for"), [
    ("Q1.fuse-link", 135, 12, (3, 3)), ("K1.heating-contact", 6, 6, (3, 1)),
    ("F2.cut-out-contact", 6, 6, None), ("M1.end-switch", 1, 0, (3, 1)),
])
def test_a_contact_carries_what_it_switches(
    name: str, watts: float, motors: float, made_for: tuple[float, float] | None
) -> None:
    contact = next(each for each in FIGURES["fitted"].contacts if each.contact == name)
    assert contact.amps == pytest.approx(watts / 230, 2e-3)
    assert contact.inductive == pytest.approx(motors / 230, 2e-3, 1e-4)
    assert made_for in (None, (contact.made_for, contact.inductive_made_for))
    assert contact.inductive <= contact.inductive_made_for


def test_a_load_loses_what_every_core_on_its_way_drops() -> None:
    """Board: 135 W over 1 m of W1; then 120 W over the line of W4 and 121 W over its neutral."""
    first = 62 * (135 / 230) * 1 / 1000
    second = 31 * (120 / 230) * 7 / 1000 + 31 * (121 / 230) * 7 / 1000
    board = load("E1.board")
    assert board.drop == pytest.approx(first + second, 2e-3)
    assert board.amps == pytest.approx(120 / 230, 2e-3)
    assert board.within
    assert board.says == "boiler: electronics, fan and pump"


def test_every_load_that_runs_has_a_drop_and_no_other() -> None:
    assert [drop.load for drop in FIGURES["fitted"].loads] == [
        "K1.electronics", "M1.motor", "M2.motor", "E1.board", "E1.input"]
    assert [drop.load for drop in FIGURES["found"].loads] == ["E2.element"]


def test_a_long_thin_run_to_a_large_load_drops_too_much() -> None:
    # 62 mV/A/m × 100 m: the boiler would have to take 1.85 A for 11.5 V (BS 7671 Table 4Ab).
    long = Edit(FITTED, "length: 7", "length: 100")
    large = Edit("parts/boiler-switched-line.yaml", "watts: 120", "watts: 450")
    assert load("E1.board", fitted(long)).within
    assert not load("E1.board", fitted(long, large)).within


def test_a_load_known_as_a_range_is_counted_at_its_most() -> None:
    uncertain = Edit("parts/boiler-switched-line.yaml", "watts: 120",
                     "watts: 60\n    up-to: 150")
    assert cable("W4", fitted(uncertain)).amps == pytest.approx(151 / 230, 2e-3)


def test_a_size_that_no_table_has_has_no_figures() -> None:
    figures = fitted(Edit("parts/flex-5-core-0.75.yaml", "area: 0.75", "area: 4"))
    run = cable("W4", figures)
    assert (run.drop, run.percent, run.core, run.loop) == (None, None, None, None)
    assert run.amps == pytest.approx(121 / 230, 2e-3)
    assert "E1.board" not in [drop.load for drop in figures.loads]


@pytest.mark.parametrize("wall", FIGURES)
def test_no_core_of_ours_carries_more_than_its_table_allows(wall: str) -> None:
    for run in FIGURES[wall].cables:
        assert run.amps <= run.carries <= CORD_AMPS[run.area]  # BS 7671 Table 4F3A
