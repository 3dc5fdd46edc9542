"""The order of the flagship, what is lifted where a feed stays, what is said of two supplies."""

from __future__ import annotations

from generator.checks.subject import job_subject
from generator.sitework.changes import changes
from generator.sitework.dead_stages import (
    joinings,
    loose_live,
    work_dead_points,
    work_isolations,
    work_notices,
)
from generator.sitework.isolation import opened_parts
from generator.sitework.reasons import reasons
from generator.sitework.reuse import left_without
from generator.sitework.rules import no_safe_order
from generator.sitework.stages import circuit_at, everything, live_at
from generator.sitework.work import Work, work
from tests.checks.edited import FITTED, FOUND, Edit, edited, link
from tests.circuit.flagship import flagship
from tests.sitework.jobs import combinations

WORK = work(flagship())


def handled(done: Work, on: bool) -> list[str]:
    stages = done.order.on if on else done.order.off
    return [stage.handling.run.name for stage in stages]


def test_both_supplies_come_off_first_and_the_one_that_feeds_comes_on_last() -> None:
    assert handled(WORK, on=False)[:2] == ["W1.BN", "W5.BN"]
    assert handled(WORK, on=True)[-3:] == ["W1.GNYE", "W1.BU", "W1.BN"]


def test_only_the_line_that_waits_could_be_live_between() -> None:
    assert [(each.run.name, each.supplies) for each in loose_live(WORK)] == [
        ("W1.BN", ("controls",))]
    between = WORK.order.off[-1]
    reach = everything(between.after) & WORK.place.reach
    assert reach == {"Q2:supply-L", "Q2:load-L", "W1:BN-2"}


def test_the_last_landing_says_which_boxes_could_be_live_from_then_on() -> None:
    joining, = joinings(WORK)
    assert joining.terminals == ("X1:1",)
    assert set(joining.parts) == {"K1", "X1", "B1", "F2", "E1"}


def test_the_circuit_of_the_first_stage_is_that_of_the_found_system_and_of_the_last_the_fitted() \
        -> None:
    for landed, side in ((WORK.place.found, WORK.job.found),
                         (WORK.order.stages[-1].landed, WORK.job.fitted)):
        made = {(c.name, frozenset((c.a, c.b)))
                for c in circuit_at(WORK.place, landed).conductors if c.kind != "joint"
                and not {c.a, c.b} & {e.name for run in WORK.place.runs for e in run.ends}}
        assert made == {(c.name, frozenset((c.a, c.b))) for c in side.circuit.conductors
                        if c.kind != "joint"}


def test_a_loose_end_is_live_while_its_other_end_is_on_a_live_terminal() -> None:
    landed = {name: t for name, t in WORK.place.found.items() if name != "W1:BN-2"}
    assert "W1:BN-2" in live_at(WORK.place, landed)["controls"]
    gone = {name: t for name, t in landed.items() if name != "W1:BN-1"}
    assert "W1:BN-2" not in live_at(WORK.place, gone)["controls"]


def test_a_feed_that_stays_is_lifted_first_and_comes_back_last() -> None:
    done = combinations("older-boiler-to-pump-overrun")[0]
    assert [gate.run.name for gate in done.order.lifted] == ["W1.BN"]
    assert handled(done, on=False)[0] == handled(done, on=True)[-1] == "W1.BN"
    assert done.order.off[0].handling.lifted


def test_nothing_is_lifted_where_the_feed_moves_anyway() -> None:
    assert WORK.order.lifted == ()


def test_two_feeds_of_one_net_have_no_safe_order() -> None:
    # The second line's end is live in the hand as soon as the first is landed.
    lines = "".join(f"  W{n}:\n    is: flex-3-core-0.75\n    length: 1\n    cores:\n"
                    f"      BN: {{from: Q1:load-L, to: X1:{way}, does: line}}\n"
                    for n, way in ((21, 1), (22, 5)))
    job = edited(Edit(FITTED, "\nlinks:\n", f"\n{lines}links:\n"), link("ring", "X1:1", "X1:5"))
    done = work(job_subject(job))
    assert done.order.unknown
    assert all(stage.handling.on for stage in done.order.unknown)
    found = no_safe_order.RULE.judge(done.job).findings
    assert found[0].message.startswith("There is no safe order: when `W2")
    assert found[0].places[0].file.endswith(FITTED)


def test_what_lands_nowhere_and_could_be_live_is_proved_dead_as_well() -> None:
    rows = {row.terminal for point in work_dead_points(combinations(
        "combination-boiler-time-switch-to-wireless")[0]) for row in point.rows}
    assert "K2:off" in rows


def test_two_circuits_in_one_box_give_a_notice_that_names_both() -> None:
    done = combinations("two-supplies-to-one-isolation")[0]
    notice = next(each for each in work_notices(done) if each.part == "X1")
    assert "-Q1" in notice.text
    assert "-Q3" in notice.text
    assert "Two circuits" in notice.text
    assert work_notices(WORK) == ()


def test_a_part_that_nothing_fitted_speaks_to_says_so() -> None:
    why = reasons(flagship().job)
    assert set(why) == {"K9", "K8", "B9"}
    assert "`1` and `2`" in why["B9"]
    assert "`-K8` and `-B9`" in why["K9"]


def test_a_part_with_a_contact_of_its_own_has_no_such_reason() -> None:
    done = combinations("mid-position-to-two-valves")[0]
    assert reasons(done.job.job) == {}


def test_a_link_that_goes_on_another_terminal_moves() -> None:
    job = edited(
        Edit(FOUND, "    from: E1:control-out\n    to: E1:control-in\n",
             "    from: E1:control-out\n    to: E1:data-1\n"),
        link("factory-link", "E1:control-out", "E1:control-in"),
        Edit("conversions/electronic-cylinder-to-wireless-two-zone.yaml",
             "  factory-link: {fate: removed, how: Take it out of the control terminals and hand "
             "it to the owner.}\n", ""))
    moved = next(each for each in changes(job).links if each.cable == "factory-link")
    assert moved.fate == "moves"
    assert "E1" in opened_parts(changes(job))
    done = work(job_subject(job))
    both = [stage.handling for stage in done.order.stages
            if stage.handling.run.name == "factory-link"]
    assert [(h.on, h.terminals) for h in both] == [(False, ("E1:data-1",)),
                                                   (True, ("E1:control-in",))]


def test_a_supply_that_comes_with_the_new_wiring_is_isolated_too() -> None:
    job = edited(
        Edit(FITTED, "zones:\n", "  loft: {says: loft circuit, line: Q7:supply-L, neutral: "
             "Q7:supply-N, earth: Q7:supply-E, isolated-by: {Q7.switch: \"off\"}}\nzones:\n"),
        Edit(FITTED, "\ncables:\n", "\n  Q7: {is: double-pole-switch, at: loft}\ncables:\n"),
        link("loft-link", "Q7:load-E", "X1:12"))
    done = work(job_subject(job))
    later, = (each for each in work_isolations(done) if each.comes)
    assert (later.part, later.supply) == ("Q7", "loft")
    assert {"Q7:supply-L", "Q7:load-L"} <= {
        row.terminal for point in work_dead_points(done) for row in point.rows}


def test_a_cable_taken_over_says_what_is_left_without_supply() -> None:
    assert left_without(WORK.job, WORK.changes) == {"W5": ("-E2 immersion heater",)}
    done = combinations("gravity-to-pumped-two-zone")[0]
    assert left_without(done.job, done.changes) == {}


def test_the_ends_of_a_core_are_paired_where_they_are() -> None:
    runs = {run.name: run for run in WORK.place.runs}
    # Written the other way round in the fitted system; one end stays.
    assert {(end.before, end.after) for end in runs["W2.OG"].ends} == {
        ("K9:valve1-open", "X1:9"), ("M1:switch-out", "M1:switch-out")}
    # Both ends change: each stays at its place.
    assert {(end.before, end.after) for end in runs["W5.BU"].ends} == {
        ("Q2:load-N", "X1:8"), ("E2:N", "F2:out")}
