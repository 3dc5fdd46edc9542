"""Nothing is joined or set up before the last safety test is passed; common practice, no source."""

from __future__ import annotations

import pytest

from generator.sitework.coverage import coverage
from generator.sitework.live_tests import live_tests
from generator.sitework.other_steps import test_steps as steps_of_tests
from generator.sitework.setting_up import after_the_tests, before_the_tests
from generator.sitework.trials import Trials, trials
from generator.sitework.work import Work
from tests.circuit.flagship import NAME
from tests.sitework.jobs import CONVERSIONS, combinations


def tried(done: Work) -> Trials:
    fitted = done.job.fitted
    return trials(fitted, coverage(fitted, done.opened), done.job.job.conversion.expect)


@pytest.mark.parametrize("name", CONVERSIONS)
def test_every_safety_test_comes_before_every_step_of_setting_up(name: str) -> None:
    done = combinations(name)[0]
    made = tried(done)
    steps = [step.does for step in steps_of_tests(done, made)]
    safety = [steps.index(next(does for does in steps if does.startswith(f"Test {number}, ")))
              for number, test in enumerate(live_tests(done.job.fitted, made), 1) if test.safety]
    said = done.job.job.conversion.set_up
    first = [steps.index(step.do) for step in before_the_tests(said)]
    last = [steps.index(step.do) for step in after_the_tests(said)]
    assert safety
    assert all(max(safety) < at for at in (*first, *last))
    tests = [at for at, does in enumerate(steps) if does.startswith("Test ")]
    assert all(max(tests) < at for at in last)


def test_a_cut_out_is_tried_before_anything_can_fire_by_itself_and_it_says_till_when() -> None:
    done = combinations(NAME)[0]
    steps = steps_of_tests(done, tried(done))
    said = [step.does for step in steps]
    tripped = [at for at, does in enumerate(said) if "tripped" in does]
    joined = next(at for at, does in enumerate(said) if "oin the room thermostat" in does)
    assert max(tripped) < joined
    assert said[0].startswith("Nothing is joined or set up before the last safety test")
    assert any("Called away before it: every supply off" in each for each in steps[0].caution)
    assert "Supply on again" in said[:joined]
