"""What any section of a page opens is proved dead, and it is said who may open it."""

from __future__ import annotations

import pytest

from generator.circuit.elements import part_of
from generator.sitework.coverage import coverage
from generator.sitework.dead_checks import inspections
from generator.sitework.dead_lines import dead_sheet
from generator.sitework.dead_stages import work_dead_points
from generator.sitework.end_steps import connect_steps, take_out_steps
from generator.sitework.live_tests import live_tests
from generator.sitework.openings import tried_parts
from generator.sitework.other_steps import dead_steps
from generator.sitework.signs import ways
from generator.sitework.trials import trials
from generator.sitework.work import Work
from tests.sitework.jobs import CONVERSIONS, combinations

WIRED = "wired-programmer-to-wireless-two-zone"
FLAGSHIP = "electronic-cylinder-to-wireless-two-zone"
CARD = "Only a person competent for unvented hot water."


def combination(name: str) -> Work:
    usual = name.partition("--")[0]
    return next(each for each in combinations(usual) if each.job.job.name == name)


def proved(done: Work) -> dict[str, str]:
    return {point.part: point.competence for point in work_dead_points(done)}


@pytest.mark.parametrize("name", CONVERSIONS)
def test_every_box_that_any_section_opens_is_proved_dead_or_new(name: str) -> None:
    for done in combinations(name):
        fitted = done.job.fitted
        sheet = dead_sheet(coverage(fitted, done.opened))
        opened = {step.part for step in (*take_out_steps(done), *connect_steps(done)) if step.core}
        opened |= {part_of(way) for way in ways(fitted)} | set(sheet.bare)
        opened |= {part_of(way) for off in sheet.shut for _, way in off.cores}
        read = {t for line in (*sheet.joined, *sheet.apart) for t in (*line.one, *line.other)}
        opened |= {part_of(t) for t in read if fitted.circuit.terminal[t].carries != "earth"}
        opened |= {each.part[1:].split()[0] for each in inspections(fitted, done.opened)}
        assert opened & done.job.found.wall.parts.keys() <= proved(done).keys()


@pytest.mark.parametrize("name", CONVERSIONS)
def test_where_a_core_comes_off_for_a_cut_out_everything_under_its_cover_is_proved_dead(
    name: str
) -> None:
    for done in combinations(name):
        assert tried_parts(done.job.fitted) <= proved(done).keys()


def test_a_cut_out_that_stays_is_proved_dead_by_a_person_with_the_card() -> None:
    # Approved Document G (2015 with 2016 amendments) 3.40: competence for unvented systems.
    done = combination(f"{WIRED}--unvented")
    assert not {"B1", "F2"} & done.place.opened
    assert {part: proved(done)[part] for part in ("B1", "F2")} == dict.fromkeys(
        ("B1", "F2"), "unvented")
    rows = {row.terminal for point in work_dead_points(done) if point.part == "F2"
            for row in point.rows}
    assert rows == {"F2:in", "F2:out"}


def test_a_new_cut_out_is_proved_dead_when_it_is_opened_again_and_not_before_it_is_there() -> None:
    done = combination(FLAGSHIP)
    assert {point.part for point in work_dead_points(done) if point.later} == {"B1", "F2"}
    assert not {"B1", "F2"} & {step.part for step in dead_steps(done)}


def test_both_tests_that_open_the_cylinders_cover_say_who_may() -> None:
    done = combination(f"{WIRED}--unvented")
    fitted = done.job.fitted
    tried = trials(fitted, coverage(fitted, done.opened), done.job.job.conversion.expect)
    said = {test.name: test.cautions for test in live_tests(fitted, tried)}
    wanted = (f"{CARD} Cover off -B1 and -F2: each proved dead first, as in section 4.",)
    assert [name for name, cautions in said.items() if cautions == wanted] == [
        "Cut-out tripped, only hot water calls", "Cut-out put back, hot water calls again"]


@pytest.mark.parametrize(("name", "opener"), [
    ("two-supplies-to-one-isolation", "electrical"),
    ("two-supplies-to-one-isolation--unvented", "unvented")])
def test_who_opens_the_cylinders_thermostat_follows_from_what_the_zone_stores(
    name: str, opener: str
) -> None:
    done = combination(name)
    parts = done.job.found.wall.parts
    kinds = {kind for part, kind in proved(done).items()
             if parts[part].part.competence == "unvented"}
    assert kinds <= {opener}
    said = [caution for step in (*take_out_steps(done), *connect_steps(done), *dead_steps(done))
            for caution in step.caution]
    assert any("unvented" in each for each in said) == (opener == "unvented")
