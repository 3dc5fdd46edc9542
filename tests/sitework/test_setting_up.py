"""What would disturb a test, as a clock, heads and the account, is set up after the last one."""

from __future__ import annotations

from generator.recipe.words import SetUp
from generator.sitework import other_steps
from generator.sitework.coverage import coverage
from generator.sitework.setting_up import after_the_tests, before_the_tests
from generator.sitework.survey import EARTHING, survey
from generator.sitework.trials import trials
from generator.sitework.work import Work
from tests.sitework.test_openings import FLAGSHIP, combination


def said(done: Work) -> list[str]:
    fitted = done.job.fitted
    tried = trials(fitted, coverage(fitted, done.opened), done.job.job.conversion.expect)
    return [step.does for step in other_steps.test_steps(done, tried)]


def test_what_would_disturb_a_test_waits_for_the_last_one() -> None:
    steps = (SetUp(do="See both lamps."), SetUp(do="Set the clock.", after_the_tests=True))
    assert before_the_tests(steps) == steps[:1]
    assert after_the_tests(steps) == steps[1:]


def test_in_the_plan_first_steps_follow_the_safety_tests_and_last_ones_the_last_test() -> None:
    done = combination(FLAGSHIP)
    words = done.job.job.conversion.set_up
    first, last = before_the_tests(words), after_the_tests(words)
    assert first
    assert last
    does = said(done)
    tests = [n for n, each in enumerate(does) if each.startswith("Test ")]
    on = does.index("Supply on again")
    assert does[on - 1].startswith("Test 5, Isolated")
    assert [does.index(step.do) for step in first] == list(range(on + 1, on + 1 + len(first)))
    assert min(does.index(step.do) for step in last) > max(tests)


def test_how_the_part_wants_to_be_joined_is_no_second_list_in_the_plan() -> None:
    done = combination(FLAGSHIP)
    joined = done.job.fitted.wall.parts["K1"].part.joining
    assert joined
    assert not set(joined) & set(said(done))


def test_main_earthing_is_seen_before_and_loop_impedance_read_after_switching_on() -> None:
    # BS 7671 132.16 and part 6: from memory.
    done = combination(FLAGSHIP)
    assert EARTHING in survey(done.job.job, done.changes)
    assert EARTHING.look in {step.does for step in other_steps.survey_steps(done)}
    assert "loop impedance" in other_steps.energise_steps(done)[-1].does


def test_in_the_plan_a_cut_out_is_tried_as_its_part_says_dead_first() -> None:
    done = combination(FLAGSHIP)
    fitted = done.job.fitted
    tried = trials(fitted, coverage(fitted, done.opened), done.job.job.conversion.expect)
    how = done.job.fitted.wall.parts["F2"].part.switches["state"].how
    assert how.startswith("Isolate and prove dead")
    told = [look for step in other_steps.test_steps(done, tried) for look in step.look
            if look.startswith("-F2") and how in look]
    assert len(told) == 1
