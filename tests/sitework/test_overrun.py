"""With the supply off nothing overruns, and nobody switches off under a hot boiler for long."""

from __future__ import annotations

import pytest

from generator.sitework.live_tests import LiveTest, live_tests
from generator.sitework.overrun import BRIEF, overruns
from tests.sitework.shipped import SYSTEMS, shipped, tried

KEPT, PLAIN = "mid-position-wireless-receiver", "two-zone-wireless-receiver-cylinder-cut-out"
CUT_OUT = "two-zone-wireless-receiver-pump-overrun"


def made(name: str) -> tuple[LiveTest, ...]:
    return live_tests(shipped(name), tried(name))


@pytest.mark.parametrize("name", [n for n in SYSTEMS if overruns(shipped(n))])
def test_an_isolated_test_waits_for_no_overrun_and_is_brief(name: str) -> None:
    for test in made(name):
        waits = " ".join(test.wait)
        if test.isolated and test.to_earth:
            assert "minutes to be at rest" not in waits
            assert "stop at once" in waits
            assert BRIEF in test.cautions
        elif not test.isolated:
            assert "stop at once" not in waits
            assert BRIEF not in test.cautions


def test_an_overrun_that_is_supplied_is_waited_for() -> None:
    idle = made(KEPT)[0]
    assert "-E1 takes 5 to 10 minutes to be at rest" in idle.wait


def test_before_the_supply_is_switched_off_to_start_afresh_the_overrun_has_ended() -> None:
    resets = [test.settings[0].how for test in made(KEPT)
              if test.settings[0].word == "off, then on"]
    assert len(resets) >= 3
    assert all(how.startswith("With every call off and the overrun ended.") for how in resets)


def test_a_system_without_overrun_says_nothing_of_one() -> None:
    assert not overruns(shipped(PLAIN))
    said = repr(made(PLAIN))
    assert "overrun" not in said
    assert "stop at once" not in said


def test_a_radiator_way_inside_a_boiler_is_no_overrun() -> None:
    system = shipped("combination-boiler-wireless")
    assert any(system.wall.parts[v.part].part.heat for v in system.circuit.variables if v.moves)
    assert overruns(system) == ()
