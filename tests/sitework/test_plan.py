"""What a step says: torque and tool where stated, who opens what, what is lifted, what to take."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.checks.subject import job_subject
from generator.sitework.end_steps import connect_steps, take_out_steps
from generator.sitework.materials import materials
from generator.sitework.other_steps import dead_steps, fix_steps
from generator.sitework.plan import wiring
from generator.sitework.visits import stops
from generator.sitework.work import work
from tests.checks.edited import Edit, edited
from tests.circuit.flagship import flagship
from tests.sitework.jobs import CONVERSIONS, combinations

WORK = work(flagship())
STRIP = "parts/terminal-strip-12.yaml"


def test_a_stated_torque_length_and_tool_stand_beside_the_landing() -> None:
    job = edited(
        Edit(STRIP, '"1": {takes: 4}', '"1": {takes: 4, tightens-to: 0.5, strips: 7}'),
        Edit(STRIP, "competence: electrical\n", "competence: electrical\ntool: a 3.5 mm blade\n"))
    done = work(job_subject(job))
    for step in connect_steps(done):
        on_first = "-X1:1" in step.end.split()
        assert (step.torque, step.strips) == ((0.5, 7) if on_first else (0, 0)), step
        assert bool(step.tool) == (step.part == "X1")
    assert all(not step.torque for step in take_out_steps(done))


def test_every_end_that_changes_has_exactly_one_step() -> None:
    ends = [end for run in WORK.place.runs if run.cable for end in run.ends if not end.stays]
    off, on = ([step for step in steps if step.core and "link" not in step.does] for steps in (
        take_out_steps(WORK), connect_steps(WORK)))
    assert sorted(step.start for step in off) == sorted(f"-{e.before}" for e in ends if e.before)
    assert sorted(step.end for step in on) == sorted(f"-{e.after}" for e in ends if e.after)


def test_a_core_that_becomes_a_line_is_sleeved_at_both_ends() -> None:
    sleeved = [step for step in connect_steps(WORK) if step.sleeve]
    assert [(step.cable, step.core, step.sleeve) for step in sleeved] == [("W5", "BU", "BN")] * 2


def test_the_boiler_and_the_cylinder_say_who_opens_them_once_in_a_phase() -> None:
    for steps in (take_out_steps(WORK), connect_steps(WORK)):
        said = [(step.part, caution) for step in steps for caution in step.caution]
        assert [part for part, caution in said if "gas register" in caution] == ["E1"]
    # Sensor and heater are boxes of their own; the cut-out sits under the thermostat's cover.
    opened = [step.part for step in connect_steps(WORK)
              if any("unvented" in caution for caution in step.caution)]
    assert opened == ["B1"]


def test_the_line_that_waits_is_insulated_when_it_comes_off() -> None:
    first = take_out_steps(WORK)[0]
    assert (first.cable, first.core, first.gate) == ("W1", "BN", True)
    assert any("Insulate its end" in caution for caution in first.caution)


def test_the_last_landing_says_what_could_be_live_from_then_on() -> None:
    last = connect_steps(WORK)[-1]
    assert (last.cable, last.core, last.gate) == ("W1", "BN", True)
    assert any("-K1, -X1, -B1, -F2 and -E1 could be live from heating controls" in caution
               for caution in last.caution)


def test_a_box_is_only_taken_out_when_no_core_is_left_on_it() -> None:
    done = [step.does for step in take_out_steps(WORK)]
    out = done.index("Take out -K9 wiring box with board")
    assert not any("-K9:" in said for said in done[out:])


def test_a_lifted_core_says_that_it_comes_back() -> None:
    done = combinations("older-boiler-to-pump-overrun")[0]
    first, last = take_out_steps(done)[0], connect_steps(done)[-1]
    assert first.start == last.end == "-X1:1"
    assert any("comes back" in look for look in first.look)
    assert last.start == ""


@pytest.mark.parametrize("name", CONVERSIONS)
def test_fixing_begins_where_one_stands_and_ends_where_connecting_begins(name: str) -> None:
    made = wiring(combinations(name)[0])
    places = [step.place for step in made.fix]
    here, there = made.take_out[-1].place, made.connect[0].place
    assert here not in places or places[0] == here
    assert there not in places or there in (places[0], places[-1])
    assert len(set(places)) == sum(a != b for a, b in zip(places, ["", *places], strict=False))


def test_every_box_is_proved_dead_in_the_plan_and_every_place_is_met_once() -> None:
    steps = dead_steps(WORK)
    proved = [step.part for step in steps if step.does.startswith("Prove")]
    assert sorted(proved) == sorted(WORK.opened & WORK.job.job.found.parts.keys())
    places = [step.place for step in steps]
    assert len(set(places)) == sum(a != b for a, b in zip(places, ["", *places], strict=False))


def test_a_cable_is_brought_into_each_box_once() -> None:
    brought = [step.does for step in fix_steps(WORK, "", "") if "Bring into" in step.does]
    assert "Bring into -X1 terminal strip: -W1, -W2, -W3, -W4, -W5" in brought
    assert "Bring into -B1 cylinder thermostat: -W5" in brought


def test_stops_lose_no_step_and_keep_the_order() -> None:
    steps = take_out_steps(WORK)
    told = [step for stop in stops(WORK, steps) for visit in stop.visits
            for step in (*visit.ends, *visit.others)]
    assert sorted(map(steps.index, told)) == list(range(len(steps)))
    assert [s for s in told if s.core] == [s for s in steps if s.core]


def test_labels_say_what_is_left_in_the_wall_and_what_waits() -> None:
    labels = {m.what: m.number for m in materials(WORK) if m.kind == "label"}
    assert labels["label: “-W7, two-core data lead: not in use”"] == 2
    assert labels["label: “-W1.BN: live when heating controls is on”"] == 1
    assert len(labels) == len(flagship().job.fitted.system.notices) + 3


def test_a_box_with_two_circuits_has_its_notice_among_the_materials() -> None:
    done = combinations("two-supplies-to-one-isolation")[0]
    assert any("Two circuits" in m.what for m in materials(done) if m.kind == "notice")


def test_a_supply_whose_part_goes_is_first_disconnected_by_an_electrician() -> None:
    job = flagship().job
    system = job.fitted.system
    fewer = system.model_copy(update={
        "supplies": {"controls": system.supplies["controls"]},
        "notices": (), "parts": {n: p for n, p in system.parts.items() if n != "Q2"}})
    fitted = replace(job.fitted, system=fewer,
                     parts={n: p for n, p in job.fitted.parts.items() if n != "Q2"})
    done = work(job_subject(replace(job, fitted=fitted)))
    gone = next(step for step in take_out_steps(done) if step.does.startswith("Take out -Q2"))
    assert any("immersion heater is disconnected at the consumer unit" in said
               for said in gone.caution)
    assert not done.order.unknown
