"""From connecting on, parts and circuits are called as they are in the fitted system."""

from __future__ import annotations

import pytest

from generator.sitework.dead_stages import work_isolations
from generator.sitework.other_steps import switch_on_steps
from generator.sitework.plan import wiring
from generator.sitework.visits import stops
from tests.circuit.flagship import NAME
from tests.sitework.jobs import CONVERSIONS, combinations

BACK = "immersion-heater-back-on-its-circuit"


@pytest.mark.parametrize("name", CONVERSIONS)
def test_every_part_that_is_connected_has_its_new_name(name: str) -> None:
    done = combinations(name)[0]
    for stop in stops(done, wiring(done).connect, fitted=True):
        assert stop.called == done.job.job.fitted.parts[stop.part].called


def test_a_heater_that_gets_its_supply_back_is_no_longer_without_one() -> None:
    done = combinations(BACK)[0]
    off, on = (stops(done, wiring(done).take_out), stops(done, wiring(done).connect, fitted=True))
    assert "immersion heater" in [stop.called for stop in on if stop.part == "E2"]
    assert all("former" not in stop.called for stop in on)
    assert any("cylinder" in stop.called for stop in off)


def test_a_way_that_was_locked_off_comes_on_at_the_consumer_unit_first() -> None:
    # The same order as for switching on after work: HSG85, from memory.
    said = [step.does for step in switch_on_steps(combinations(BACK)[0])]
    unit = said.index("At the consumer unit: lock off, the way of immersion heater on")
    assert said[unit + 1] == "Switch on immersion heater at -Q2 immersion switch: switch on"
    assert said[0] == ("Lock off, switch on heating controls at -Q1 fused connection unit: fuse "
                       "fitted, switch on")


def test_what_is_left_without_use_stays_off() -> None:
    done = combinations(NAME)[0]
    assert "Q2" in {each.part for each in work_isolations(done)}
    assert {step.part for step in switch_on_steps(done)} == {"Q1"}
