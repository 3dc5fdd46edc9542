"""A zone by its one way of a valve, or without a valve by what serves it: what each rule says.

Mid-position valve and gravity circulation: common practice, no source. Off without demand: Approved
Document L volume 1 (2021 edition) 5.15.
"""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.checks.catalogue import SYSTEM_RULES
from generator.checks.rule import Rule
from generator.checks.rules import (
    burner_fires_uncalled,
    call_does_nothing,
    valve_stays_open,
    zone_opened_by_other_call,
)
from generator.checks.subject import Subject, subject
from generator.circuit.elements import Zone
from generator.recipe.moving import Both, Either, Not, Wish, Word, enough
from tests.checks.edited import Edit, edited_system

MIDDLE = "systems/mid-position-vented-cylinder.yaml"
COMBINATION = "systems/combination-boiler-wireless.yaml"
PAIR = "systems/combination-boiler-volt-free-wireless.yaml"
WISHES = st.recursive(
    st.sampled_from("abc").map(Word),
    lambda inner: st.builds(Not, inner) | st.builds(Both, inner, inner)
    | st.builds(Either, inner, inner))


def solved(file: str, *edits: tuple[str, str]) -> Subject:
    return subject(edited_system(file, *(Edit(file, old, new) for old, new in edits)))


def zone(of: Subject, name: str) -> Zone:
    return next(each for each in of.circuit.zones if each.name == name)


def holds(wish: Wish, true: set[str]) -> bool:
    match wish:
        case Word(name):
            return name in true
        case Not(inner):
            return not holds(inner, true)
        case Both(left, right):
            return holds(left, true) and holds(right, true)
        case Either(left, right):
            return holds(left, true) or holds(right, true)


@given(WISHES)
def test_a_name_that_is_enough_makes_the_wish_hold_whatever_the_others_are(wish: Wish) -> None:
    sets = [{n for n, on in zip("abc", choice, strict=True) if on}
            for choice in product((False, True), repeat=3)]
    for name in enough(wish):
        assert all(holds(wish, true) for true in sets if name in true)


def test_white_alone_opens_the_heating_way_and_nothing_alone_the_way_that_rests_open() -> None:
    middle = solved(MIDDLE)
    heating, water = zone(middle, "heating"), zone(middle, "hot-water")
    assert [load.name for load in middle.starters(heating)] == ["M1.white"]
    assert middle.starters(water) == ()
    assert [load.name for load in middle.motors(water)] == ["M1.grey"]


def test_the_end_switch_of_a_mid_position_valve_belongs_to_the_heating_way() -> None:
    middle = solved(MIDDLE)
    assert [c.name for c in middle.end_switch(zone(middle, "heating"))] == ["M1.end-switch"]
    assert middle.end_switch(zone(middle, "hot-water")) == ()


def test_the_two_ways_are_open_together_only_in_the_middle_and_never_both_shut_at_rest() -> None:
    middle = solved(MIDDLE)
    heating, water = (middle.opened(zone(middle, name)) for name in ("heating", "hot-water"))
    assert heating & water & middle.settled
    assert heating & ~water & middle.settled
    assert not middle.settled & ~heating & ~water


@pytest.mark.parametrize(("one", "other", "shared"), [
    (("M1", ""), ("M1", "M1.heating-way"), True),
    (("M1", "M1.heating-way"), ("M1", "M1.hot-water-way"), False),
    (("M1", ""), ("M2", ""), False),
    (("M1", ""), ("", ""), False),
    (("", ""), ("", ""), True),
])
def test_zones_are_opened_together_by_one_valve_and_apart_by_its_ways(
    one: tuple[str, str], other: tuple[str, str], shared: bool
) -> None:
    place = solved(COMBINATION).circuit.zones[0].place
    a, b = (Zone("x", *each, (), (), (), "nothing", place) for each in (one, other))
    assert (a.shares(b), b.shares(a)) == (shared, shared)


@pytest.mark.parametrize(("file", "rule", "words", "old", "new"), [
    (MIDDLE, zone_opened_by_other_call.RULE, "The motor of `M1.heating-way` runs though `heating`",
     "\nlinks:\n", "\nlinks:\n  joined: {from: X1:6, to: X1:9, does: stray}\n"),
    (MIDDLE, call_does_nothing.RULE, "its valve `M1.heating-way` stays shut",
     'WH: {from: X1:6, to: M1:white, does: "switched live, room calls"}',
     "WH: {made-safe: in a connector}"),
    # Without grey it stands in the middle, and orange is joined to white at heating only.
    (MIDDLE, call_does_nothing.RULE, "its valve `M1.heating-way` is open, and nothing fires for it",
     'GY: {from: X1:8, to: M1:grey, does: "switched live, hot water not wanted"}',
     "GY: {made-safe: in a connector}"),
    (MIDDLE, call_does_nothing.RULE, "`hot-water` calls and its valve `M1.heating-way` stays shut",
     "valve: M1.hot-water-way", "valve: M1.heating-way"),
    (COMBINATION, call_does_nothing.RULE, "`heating` calls and `E1.burner` stays silent",
     'BK: {from: K1:on, to: E1:control-in, does: "switched live, boiler"}',
     "BK: {made-safe: in a connector}"),
    (COMBINATION, burner_fires_uncalled.RULE, "`E1.burner` fires though no zone calls",
     "\nlinks:\n", "\nlinks:\n  factory: {from: E1:control-out, to: E1:control-in, does: left}\n"),
    (PAIR, burner_fires_uncalled.RULE, "`E1.burner` fires though no zone calls",
     "\nnotices:\n", "\nlinks:\n  factory: {from: E1:call-1, to: E1:call-2, does: x}\nnotices:\n"),
])
def test_a_broken_system_is_found(
    file: str, rule: Rule[Subject], words: str, old: str, new: str
) -> None:
    findings = rule.judge(solved(file, (old, new))).findings
    assert any(words in finding.message for finding in findings), findings


@pytest.mark.parametrize(("file", "end"), [
    (COMBINATION, "E1:control-in"), (PAIR, "E1:call-2")])
def test_what_fires_a_burner_uncalled_is_followed_to_its_input(file: str, end: str) -> None:
    links = "\nlinks:\n" if file == COMBINATION else "\nnotices:\n"
    start = "E1:control-out" if file == COMBINATION else "E1:call-1"
    added = f"\nlinks:\n  factory: {{from: {start}, to: {end}, does: left}}\n"
    new = added if file == COMBINATION else f"{added}notices:\n"
    (finding,) = burner_fires_uncalled.RULE.judge(solved(file, (links, new))).findings
    assert finding.path[-1] == end
    assert finding.places[0].note == "link factory"


@pytest.mark.parametrize("file", [MIDDLE, COMBINATION, PAIR])
def test_the_shipped_zones_are_asked_about_and_healthy(file: str) -> None:
    healthy = solved(file)
    asked = {rule.name: rule.judge(healthy) for rule in SYSTEM_RULES}
    assert asked["call-does-nothing"].asked
    assert asked["burner-fires-uncalled"].asked
    assert not any(verdict.findings for name, verdict in asked.items() if name != "off-output-bare")


def test_a_way_that_rests_open_is_asked_only_while_another_call_fires_the_boiler() -> None:
    middle = solved(MIDDLE)
    idle = middle.able() & ~middle.calling()
    assert idle & middle.opened(zone(middle, "hot-water"))
    assert valve_stays_open.RULE.judge(middle).findings == ()
