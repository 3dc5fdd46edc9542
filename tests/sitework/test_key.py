"""The key reaches every system from its own signs, or says that it cannot; never a wrong one."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.recipe.costs import USUAL
from generator.recipe.library import Library
from generator.recipe.meeting import all_met
from generator.recipe.met import NOBODY, AllMet, Met
from generator.sitework.key.steps import Key, Reply, Step, key
from generator.sitework.key.tree import MOST
from tests.circuit.flagship import RECIPES
from tests.sitework.met_systems import made, met, question

calm = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])


def ends(found: Key, one: Met, unknown: str = "") -> Iterator[tuple[tuple[str, ...], Reply]]:
    """Yield each way on which a system's own answers lead, with the names of what was asked."""
    waiting: list[tuple[tuple[str, ...], Step]] = [((), found.steps[0])]
    while waiting:
        way, step = waiting.pop()
        shown = one.answers(step.name) or tuple(found.met.signs.questions[step.name].answers)
        replies = {reply.answer: reply for reply in step.replies}
        taken = [step.cannot] if step.name == unknown else [replies[each] for each in shown]
        for reply in taken:
            if reply.then:
                waiting.append(((*way, step.name), found.steps[reply.then - 1]))
            else:
                yield (*way, step.name), reply


def assert_not_told_apart(left: tuple[Met, ...], signs: AllMet, but: tuple[str, ...]) -> None:
    """See that no question but these could rule out one of the systems that remain."""
    for name, each in signs.signs.questions.items():
        if name not in but:
            shown = {frozenset(one.answers(name) or each.answers) for one in left}
            assert len(shown) == 1, name


def assert_reached(found: Key) -> None:
    for one in found.met.told if found.steps else ():
        for unknown in ("", *found.met.signs.questions):
            for way, reply in ends(found, one, unknown):
                assert one in reply.left
                assert len(way) == len(set(way)), "nothing is asked twice"
                assert_not_told_apart(reply.left, found.met, (*way, unknown))
    if not found.steps:
        assert found.alike == found.met.told
        assert_not_told_apart(found.alike, found.met, ())


def test_every_shipped_system_is_reached_whatever_one_sign_is_unknown() -> None:
    found = key(all_met(Library(RECIPES)), USUAL)
    assert len(found.steps) > 3
    assert found.exact
    assert_reached(found)


def test_with_every_sign_known_every_shipped_start_is_reached_alone() -> None:
    found = key(all_met(Library(RECIPES)), USUAL)
    started = [one for one in found.met.told if one.starts]
    assert started
    for one in started:
        for _, reply in ends(found, one):
            assert [other.name for other in reply.left if other.starts != one.starts] == []


@calm
@given(made())
def test_made_systems_are_reached_whatever_one_sign_is_unknown(systems: AllMet) -> None:
    assert_reached(key(systems, USUAL))


@calm
@given(made(), st.data())
def test_no_leaf_is_ever_wrong_whatever_cannot_be_told(systems: AllMet, data: st.DataObject
                                                       ) -> None:
    found = key(systems, USUAL)
    one = data.draw(st.sampled_from(systems.told))
    step, unknown = (found.steps[0] if found.steps else None), 0
    while step:
        shown = one.answers(step.name) or tuple(systems.signs.questions[step.name].answers)
        answer = data.draw(st.sampled_from([*shown, step.cannot.answer]))
        unknown += answer == step.cannot.answer
        (reply,) = (each for each in (*step.replies, step.cannot) if each.answer == answer)
        assert reply.then or one in reply.left
        assert reply.then or unknown <= found.unanswered + 1
        step = found.steps[reply.then - 1] if reply.then else None


@calm
@given(made())
def test_what_is_not_listed_at_a_step_is_shown_by_none_that_could_be_there(systems: AllMet) -> None:
    found = key(systems, USUAL)
    # Every system that any way leads to at a step.
    there: dict[int, set[str]] = {}
    for step in found.steps:
        below = [reply.left for reply in reachable(found, step)]
        there[step.number] = {one.name for left in below for one in left}
    for step in found.steps:
        listed = {reply.answer for reply in step.replies}
        left = [one for one in systems.told if one.name in there[step.number]]
        shown = {answer for one in left for answer in (
            one.answers(step.name) or systems.signs.questions[step.name].answers)}
        assert shown == listed


def reachable(found: Key, step: Step) -> Iterator[Reply]:
    waiting, known = [step], set()
    while waiting:
        here = waiting.pop()
        for reply in (*here.replies, here.cannot):
            if not reply.then:
                yield reply
            elif reply.then not in known:
                known.add(reply.then)
                waiting.append(found.steps[reply.then - 1])


@calm
@given(made())
def test_the_page_is_bounded_and_each_step_is_met(systems: AllMet) -> None:
    found = key(systems, USUAL)
    assert found.unanswered >= 1
    assert found.unanswered == 1 or len(found.steps) <= MOST
    numbers = [step.number for step in found.steps]
    assert numbers == list(range(1, len(numbers) + 1))
    led = {reply.then for step in found.steps for reply in (*step.replies, step.cannot)}
    assert set(numbers) - led <= {1}
    assert not found.steps or not found.steps[0].detour


def test_a_box_that_fits_nothing_is_told_so() -> None:
    found = key(met({"valves": question("none", "one", "two")},
                    [{"valves": ["one"]}, {"valves": ["two"]}]), USUAL)
    (step,) = found.steps
    assert [reply.answer for reply in step.replies] == ["one", "two"]
    assert [one.name for one in step.cannot.left] == ["s0", "s1"]


def test_a_system_that_leaves_a_question_open_stays_whatever_is_answered() -> None:
    found = key(met({"valves": question("one", "two")}, [{"valves": ["one"]}, {"other": ["x"]}]),
                USUAL)
    (step,) = found.steps
    left = {reply.answer: [one.name for one in reply.left] for reply in step.replies}
    assert left == {"one": ["s0", "s1"], "two": ["s1"]}


def test_a_look_comes_before_a_try_and_both_before_opening() -> None:
    signs = {"box": question("a", "b", after=True), "pump": question("a", "b", tried=True),
             "valve": question("a", "b")}
    found = key(met(signs, [{name: [each] for name in signs} for each in "ab"]), USUAL)
    assert [(step.name, step.opened) for step in found.steps] == [
        ("valve", False), ("pump", False), ("box", True)]


def test_a_cost_that_is_changed_changes_the_order() -> None:
    signs = {"box": question("a", "b", after=True), "pump": question("a", "b", tried=True)}
    systems = met(signs, [{name: [each] for name in signs} for each in "ab"])
    dear = USUAL.model_copy(update={"valve": 100})
    assert key(systems, USUAL).steps[0].name == "pump"
    assert key(systems, dear).steps[0].name == "box"


@pytest.mark.parametrize("systems", [NOBODY, met({"valves": question("one", "two")}, [{}])])
def test_where_nothing_is_known_nothing_is_asked(systems: AllMet) -> None:
    found = key(systems, USUAL)
    assert (found.steps, found.alike, found.figures.expected, found.cost) == ((), (), 0, 0)


def test_one_system_alone_is_the_only_one() -> None:
    found = key(met({"valves": question("one", "two")}, [{"valves": ["one"]}]), USUAL)
    assert (found.steps, [one.name for one in found.alike]) == ((), ["s0"])


@calm
@given(made())
def test_the_key_is_the_same_at_every_run(systems: AllMet) -> None:
    assert key(systems, USUAL) == key(systems, USUAL)
