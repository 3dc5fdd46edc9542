"""Nothing that could be live at an opened part is left out of the list to prove dead."""

from __future__ import annotations

import pytest

from generator.checks.subject import Subject, subject
from generator.circuit.potentials import could_be_live
from generator.sitework.changes import changes
from generator.sitework.dead_stages import work_dead_points, work_isolations
from generator.sitework.end_steps import take_out_steps
from generator.sitework.isolation import KNOWN_EARTH, dead_points, isolations, opened_parts
from tests.checks.edited import FOUND, Edit, edited
from tests.circuit.flagship import flagship
from tests.sitework.jobs import CONVERSIONS, combinations

JOB = flagship()
CHANGES = changes(JOB.job)
OPENED = opened_parts(CHANGES)


def could_be_live_anywhere(found: Subject) -> set[str]:
    """Every terminal that any supply could make live in any state, closed parts at their worst."""
    return {t.name for t in found.circuit.terminals for s in found.circuit.supplies
            if could_be_live(found.potentials, s.name).get(found.potentials.nets.of[t.name])}


def proved_dead(found: Subject) -> set[str]:
    return {row.terminal for point in dead_points(found, OPENED) for row in point.rows}


def test_every_terminal_that_could_be_live_where_work_is_done_is_tested() -> None:
    parts = JOB.found.wall.parts
    in_reach = {name for name in could_be_live_anywhere(JOB.found)
                if (part := name.partition(":")[0]) in OPENED
                and any(name in (c.a, c.b) for c in JOB.found.circuit.conductors
                        if c.kind != "joint")
                and parts[part].part.terminals[name.partition(":")[2]].tail is None}
    assert len(in_reach) > 20
    assert in_reach <= proved_dead(JOB.found)


def test_both_ends_of_a_taken_over_cable_are_tested() -> None:
    ends = {end for core in CHANGES.cores() if core.cable == "W5" and core.colour != "GNYE"
            for end in core.before or ()}
    assert ends == {"Q2:load-L", "Q2:load-N", "E2:L", "E2:N"}
    assert ends <= proved_dead(JOB.found)


def test_both_ends_of_an_abandoned_cable_are_tested() -> None:
    assert {"K9:data-1", "K8:data-1", "K9:boiler-1", "E1:data-1"} <= proved_dead(JOB.found)


def test_a_line_is_tested_to_earth_before_neutral() -> None:
    point = next(p for p in dead_points(JOB.found, OPENED) if p.part == "E2")
    line = next(row for row in point.rows if row.terminal == "E2:L")
    assert line.against == ("E2:E", "E2:N")


def test_line_to_neutral_line_to_earth_and_neutral_to_earth_are_all_there() -> None:
    # HSE GS38 and the prove-dead sequence: at least these three pairs for a single phase.
    for point in dead_points(JOB.found, OPENED):
        if not any(row.terminal.endswith(("N", "-N")) for row in point.rows):
            continue
        pairs = {(row.terminal.rpartition(":")[2][-1], against.rpartition(":")[2][-1])
                 for row in point.rows for against in row.against}
        assert {("L", "E"), ("L", "N"), ("N", "E")} <= pairs, point.part


def test_a_strip_is_tested_line_to_neutral_line_to_earth_and_neutral_to_earth() -> None:
    # The same three pairs; HSE GS38 and HSG85. A strip says of no way what it carries.
    for done in combinations("wired-programmer-to-wireless-two-zone"):
        point = next(each for each in work_dead_points(done) if each.part == "X1")
        against = {row.terminal: row.against for row in point.rows}
        for line in ("X1:1", "X1:5", "X1:7", "X1:9"):
            assert against[line] == (KNOWN_EARTH, "X1:3")
        assert against["X1:3"] == (KNOWN_EARTH,)


def test_an_isolator_that_is_opened_is_made_dead_further_up() -> None:
    by_part = {each.part: each for each in isolations(JOB.found, OPENED)}
    assert by_part["Q2"].opened
    assert by_part["Q2"].stays_live == ("Q2:supply-L",)
    assert not by_part["Q1"].opened
    assert {"Q2:supply-L", "Q2:supply-N"} <= proved_dead(JOB.found)


def test_a_cable_joined_to_a_second_supply_is_said_to_be_fed_by_both() -> None:
    job = edited(Edit(FOUND, 'BN: {from: K9:boiler-L, to: E1:L, does: permanent line}',
                      'BN: {from: Q2:load-L, to: E1:L, does: permanent line}'))
    point = next(p for p in dead_points(subject(job.found), OPENED) if p.part == "E1")
    assert point.supplies == ("controls", "immersion")


def test_a_box_that_nothing_drawn_feeds_is_proved_dead_all_the_same() -> None:
    job = edited(Edit(FOUND, "BN: {from: Q1:load-L, to: K9:L, does: permanent line}",
                      "BN: {made-safe: cut back}"))
    point = next(p for p in dead_points(subject(job.found), OPENED) if p.part == "E1")
    assert point.supplies == ()
    assert {"E1:L", "E1:control-in", "E1:N"} <= {row.terminal for row in point.rows}


@pytest.mark.parametrize("name", CONVERSIONS)
def test_every_way_of_an_opened_strip_is_proved_dead_used_or_not(name: str) -> None:
    # Cores are landed on empty ways too: common practice, no source.
    for done in combinations(name):
        for point in work_dead_points(done):
            part = done.part(point.part).part
            if part.letter == "X":
                assert {f"{point.part}:{way}" for way in part.terminals} == {
                    t for row in point.rows for t in (row.terminal, *row.against) if ":" in t}


PLUG = "two-supplies-to-one-isolation"


def test_a_drawn_plug_is_proved_at_its_pins_and_no_probe_goes_into_the_socket() -> None:
    # Line, neutral and earth of a plug that is drawn, HSE GS38 and HSG85: the three pairs.
    done = combinations(PLUG)[0]
    point = next(each for each in work_dead_points(done) if each.part == "Q3")
    pairs = {(row.terminal, against) for row in point.rows for against in row.against}
    assert {("Q3:pin-L", "Q3:load-N"), ("Q3:pin-L", "Q3:load-E"), ("Q3:load-N", "Q3:load-E")
            } <= pairs
    assert not any("supply" in terminal for pair in pairs for terminal in pair)


def test_a_socket_stays_on_and_shut_while_a_connection_unit_is_off_further_up() -> None:
    plug, unit = (next(each for each in combinations(PLUG)
                       if each.job.job.name.endswith(name)) for name in (PLUG, "unit"))
    opened = [next(each.opened for each in work_isolations(done) if each.part == "Q3")
              for done in (plug, unit)]
    assert opened == [False, True]
    said = {caution for step in take_out_steps(plug) for caution in step.caution}
    assert not any("Q3:supply-L" in caution for caution in said)
    said = {caution for step in take_out_steps(unit) for caution in step.caution}
    assert any("Q3:supply-L stays live unless its circuit is off" in each for each in said)
