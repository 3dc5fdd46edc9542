"""What a test tells a person to see: every pump runs or not, and a boiler's inside by its name."""

from __future__ import annotations

import pytest

from generator.sitework.live_tests import live_tests
from generator.sitework.overrun import RUNS_ON
from tests.sitework.shipped import shipped, tried


@pytest.mark.parametrize("name", ["oil-burner-wireless", "two-zone-pump-overrun"])
def test_the_pump_is_looked_for_in_every_test_and_turns_with_the_burner(name: str) -> None:
    # Off without demand, pump and heat source: Approved Document L volume 1 (2021) 5.15.
    for test in live_tests(shipped(name), tried(name)):
        if test.name == RUNS_ON:
            continue
        seen = dict(test.seen)
        (fires,) = (word for what, word in test.seen if what.endswith((" burner", " flame")))
        assert seen["-G1 pump"] == {"on": "runs", "off": "stands still"}[fires]


def test_what_moves_inside_a_boiler_is_told_from_the_boiler() -> None:
    seen = {what for test in live_tests(shipped("combination-boiler-wireless"),
                                        tried("combination-boiler-wireless"))
            for what, _ in test.seen}
    assert seen == {"-E1 boiler, radiator way", "-E1 burner"}
