"""What a search says at each step keeps whoever follows it safe, and blames nothing healthy."""

from __future__ import annotations

import pytest

from generator.circuit.elements import part_of
from generator.recipe.costs import USUAL
from generator.sitework.finder.alike import gain
from generator.sitework.finder.choice import Ask, End, Tree
from generator.sitework.finder.measurement import Kind
from generator.sitework.finder.measurements import measurements
from generator.sitework.finder.moving import Moves, cost
from tests.sitework.test_finder import SYSTEMS, asks, classes_of, of_flagship, of_system


def test_whoever_looks_inside_a_box_opens_it() -> None:
    # Electricity at Work Regulations 1989 regulations 13 and 14: dead and proved dead, at the box.
    for search in of_flagship().searches:
        for ask in asks(search.tree):
            wanted = ask.measurement
            if wanted.kind is not Kind.METER:
                boxes = {of_flagship().ground.subject.outermost(part_of(each))
                         for each in wanted.terminals}
                assert set(wanted.lids) == boxes
    said = {q.asks for s in of_flagship().searches for q in s.questions}
    assert not any("lands on earthed metal" in each for each in said)


def test_the_strictest_part_in_a_box_decides_who_opens_it() -> None:
    # Approved Document G 3.40: the cut-out of an unvented cylinder, under the thermostat's cover.
    reached = of_flagship().ground
    assert "unvented" in reached.competences(reached.box("F2:in"))


def steps(tree: Tree, before: tuple[Ask, ...] = ()) -> set[tuple[Ask, ...]]:
    """Return every way to a question, straight on and by what could not be measured."""
    if isinstance(tree, End):
        return set()
    way = (*before, tree)
    return {way}.union(*(steps(then, way) for then in
                         (*(then for _, then in tree.answers), tree.could_not)))


@pytest.mark.parametrize("name", [None, *SYSTEMS])
def test_a_dead_step_says_isolate_and_open_unless_the_step_before_did(name: str | None) -> None:
    # Electricity at Work Regulations 1989 regulation 13: made dead and kept so, proved at each box.
    found = of_system(name) if name else of_flagship()
    for search in found.searches:
        for *before, ask in steps(search.tree):
            last = before[-1] if before else None
            failed = last and last.could_not is ask and ask not in dict(last.answers).values()
            if ask.measurement.live:
                continue
            if last is None or failed or last.measurement.live:
                assert ask.moves.isolated
                assert {*ask.measurement.lids} == {*ask.moves.opened, *ask.moves.again}
            opened = {lid for each in before for lid in each.measurement.lids}
            assert {*ask.measurement.lids} <= {*ask.moves.opened, *opened}


def test_with_the_supply_on_each_step_says_which_covers_are_on() -> None:
    live = [q for s in of_flagship().searches for q in s.questions
            if any(first.startswith("Controls set as in") for first in q.first)]
    assert {q.live for q in live} == {True, False}
    for question in live:
        says = "Only -X1's cover open; supply on." if question.live else "All covers on; supply on."
        assert says in question.first


def test_a_box_where_a_supply_arrives_is_made_dead_at_the_consumer_unit() -> None:
    # Its own switch and fuse stand behind its supply terminals (BS 1363-4 connection unit).
    opening = [first for s in of_flagship().searches for q in s.questions for first in q.first
               if "pen -Q1" in first]
    assert opening
    for first in opening:
        assert first.startswith("First switch off its circuit at the consumer unit, lock it")
        assert "prove its supply side dead too" in first
    reached = of_flagship().ground
    assert {"Q1", "Q2"} == reached.fed
    q1, x1 = (Moves(True, (), (lid,), int(lid in reached.fed), 0, False) for lid in ("Q1", "X1"))
    assert cost(USUAL, q1) == cost(USUAL, x1) + USUAL.isolating


def test_a_fuse_is_measured_in_the_hand_before_its_contacts_are_blamed() -> None:
    faults = {fault for s in of_flagship().searches for q in s.questions
              for answer in (*q.answers, q.could_not) for fault in answer.faults}
    blamed = [fault for fault in faults if "Q1.fuse-link" in fault and "never closes" in fault]
    assert blamed
    assert all(fault.endswith("measure the drawn fuse in your hand first") for fault in blamed)


def test_a_box_where_a_supply_arrives_is_opened_last() -> None:
    found = of_flagship()
    asked = [m for m in measurements(found.ground, found.suspects)
             if found.ground.fed.isdisjoint(m.lids)]
    opening = 0
    for search in found.searches:
        for ask in straight(search.tree):
            if ask.moves.fed:
                opening += 1
                groups = classes_of(ask)
                left = sum(1 << number for group in groups for number in group)
                firsts = sum(1 << group[0] for group in groups)
                assert not any(gain(m, left, firsts) for m in asked if not m.unsafe & left
                               and not (search.complaint.off and m.live))
    assert opening


def straight(tree: Tree) -> list[Ask]:
    if isinstance(tree, End):
        return []
    return [tree, *(ask for _, then in tree.answers for ask in straight(then))]


def test_an_open_valve_that_guards_stored_water_is_searched_with_the_supply_off() -> None:
    # Approved Document G 3.33 asks that the flow of primary water stops: it did not.
    found = of_flagship()
    hot = [s for s in found.searches if s.complaint.hot]
    assert {"Nothing calls: hot-water valve open", "Nothing calls: hot-water valve open, "
            "boiler burner on"} <= {s.complaint.words for s in hot}
    for search in found.searches:
        assert search.complaint.hot == ("M2" in search.complaint.astray)
    assert not any(ask.measurement.live for s in hot for ask in asks(s.tree))
    shut = next(s for s in found.searches if s.complaint.words == "Nothing calls: heating valve "
                "open, boiler burner on")
    assert shut.complaint.astray == ("M1",)
    assert not shut.complaint.hot


def test_what_is_out_of_service_is_no_suspect_and_is_not_opened() -> None:
    found = of_flagship()
    assert found.ground.idle == {"Q2", "E2"}
    given = 0
    for search in found.searches:
        given |= search.complaint.suspects
        assert all(found.ground.idle.isdisjoint(ask.moves.opened) for ask in asks(search.tree))
    words = [s.fault.words for n, s in enumerate(found.suspects) if given >> n & 1]
    assert not any("Q2" in each or "E2." in each or "E2:" in each for each in words)
    assert any(suspect.idle for suspect in found.suspects)


def test_a_control_input_that_reads_open_proves_nothing() -> None:
    # An opto-coupler or relay circuit stands behind it: common practice, no source.
    found = of_flagship()
    for suspect in found.suspects:
        for joints in suspect.dead.values():
            if suspect.fault.words == "`E1.input` burnt out":
                assert joints.loads["E1:control-in"] != joints.loads["E1:N"]
    healthy = next(s for s in found.suspects if s.fault.words == "contact `Q1.fuse-link` never "
                   "closes")
    for joints in healthy.dead.values():
        assert joints.loads["E1:control-in"] == joints.loads["E1:N"]
        assert joints.linear["E1:control-in"] != joints.linear["E1:N"]


def test_ends_say_what_it_may_be_instead_and_whose_work_it_is() -> None:
    # GSIUR 1998 regulation 3 for the boiler; Approved Document G 3.40 for the cut-out.
    faults = {fault for s in of_flagship().searches for q in s.questions
              for answer in (*q.answers, q.could_not) for fault in answer.faults}
    assert ("230 V at the control input with no burner: the boiler's own fault or lock-out, for a "
            "person on the gas register") in faults
    assert not any("E1.input" in fault for fault in faults)
    assert any("cut-out-contact` never closes, or it has tripped: do not press it; find out why; "
               "a person competent for unvented hot water" in fault for fault in faults)


def test_complaints_name_lamps_and_displays_not_electronics() -> None:
    said = [words for s in of_flagship().searches
            for words in (s.complaint.words, *s.complaint.also)]
    assert any("no lamp or display on the wireless receiver" in words for words in said)
    assert not any("electronics" in words for words in said)


@pytest.mark.parametrize("name", SYSTEMS)
def test_only_parts_with_a_lamp_or_display_are_said_to_lack_one(name: str) -> None:
    # Feeds in a valve's head and a boiler's gas valve are not seen: common practice, no source.
    found = of_system(name)
    for search in found.searches:
        for words in (search.complaint.words, *search.complaint.also):
            lamps = [each for each in words.split(": ", 1)[1].split(", ") if "lamp" in each]
            assert len(set(lamps)) == len(lamps)
            assert all(each.startswith("no lamp or display on the ") for each in lamps)
            assert not any("valve" in each for each in lamps)


def test_a_way_inside_a_boiler_has_no_lever_to_look_at() -> None:
    combi = of_system("combination-boiler-wireless")
    open_ways = [s for s in combi.searches if "boiler open" in s.complaint.words]
    assert open_ways
    assert not any(s.complaint.astray for s in open_ways)
    mid = of_system("mid-position-vented-cylinder")
    assert any(s.complaint.astray == ("M1",) for s in mid.searches)
