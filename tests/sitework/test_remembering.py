"""A valve that stays where it was left is brought to rest before each test, or that is untrue."""

from __future__ import annotations

import pytest

from generator.sitework.live_tests import live_tests
from generator.sitework.overrun import RUNS_ON
from tests.sitework.shipped import shipped, tried

MIDDLE, FLAGSHIP = "mid-position-wireless-receiver", "two-zone-wireless-receiver-cylinder-cut-out"


def afresh(name: str) -> list[bool]:
    """Return for each test whether the supply is first switched off and on again."""
    return [test.settings[0].word == "off, then on"
            for test in live_tests(shipped(name), tried(name))]


def test_every_test_but_the_first_and_one_without_supply_begins_at_rest():
    tests = live_tests(shipped(MIDDLE), tried(MIDDLE))
    assert len(tests) >= 5
    # What runs on is seen from where the test before it stood: it is not switched off between.
    assert afresh(MIDDLE) == [not (i == 0 or test.isolated or test.name == RUNS_ON)
                              for i, test in enumerate(tests)]
    assert not any(afresh(FLAGSHIP))


def worked(system, state, names):
    return state | sum(1 << system.circuit.index[name] for name in names)


@pytest.mark.parametrize("left", [(), ("M1.heating-way",),
                                  ("M1.heating-way", "M1.hot-water-way")])
def test_from_wherever_the_valve_was_left_it_ends_where_the_test_says(left):
    # Off, and the spring takes it back; on with every call off; only then the calls.
    system = shipped(MIDDLE)
    fed, supply = worked(system, 0, ("Q1.fuse",)), worked(system, 0, ("Q1.switch",))
    back = system.motion.settle(worked(system, fed, left))
    idle = system.motion.settle(back | supply)
    settings = [trial.setting for trial in tried(MIDDLE).trials if trial.setting & supply]
    assert len(settings) >= 4
    for setting in settings:
        assert system.motion.settle(idle | setting) == system.motion.settle(setting)


def test_without_that_it_may_stand_at_heating_after_hot_water_was_satisfied():
    # Grey alone leaves it where it was: from one public explanation of one common inside.
    system = shipped(MIDDLE)
    fed = worked(system, 0, ("Q1.fuse", "Q1.switch", "K2.hot-water", "B1.water"))
    heating = system.motion.settle(worked(system, fed, ("K2.heating",)))
    after = system.motion.settle(heating & ~worked(system, 0, ("K2.heating",)))
    assert after != system.motion.settle(fed)


def test_each_way_of_a_valve_is_named_where_there_are_two():
    (what, _), (other, _), *_ = live_tests(shipped(MIDDLE), tried(MIDDLE))[0].seen
    assert what.endswith("three-port valve, heating way")
    assert other.endswith("three-port valve, hot water way")
    assert not any("way" in what for test in live_tests(shipped(FLAGSHIP), tried(FLAGSHIP))
                   for what, _ in test.seen)
