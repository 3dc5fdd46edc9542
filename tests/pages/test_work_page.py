"""The conversion page follows the computed order, says what is loose, and links its materials."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest

from generator.sitework.end_steps import connect_steps, take_out_steps
from generator.sitework.materials import materials
from tests.circuit.flagship import NAME
from tests.pages.project import read_page
from tests.sitework.jobs import CONVERSIONS, combinations


def section(site: Path, name: str, anchor: str) -> str:
    html = (site / "conversions" / name / "index.html").read_text(encoding="utf-8")
    found = re.search(rf'<section>\s*<h2 id="{anchor}">.*?</section>', html, re.DOTALL)
    assert found
    return found.group(0)


def plain(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


@pytest.mark.drawing
@pytest.mark.parametrize("name", CONVERSIONS)
def test_cores_come_off_and_go_on_in_the_order_of_the_plan(site: Path, name: str) -> None:
    done = combinations(name)[0]
    out = plain(section(site, name, "out").partition('id="out-parts"')[0])
    where = 0
    for step in take_out_steps(done):
        if step.core:
            said = f"{step.core} {step.start.replace(f'-{step.part}:', ':')}"
            where = out.index(said, where) + 1
    wire = plain(section(site, name, "wire"))
    where = 0
    for step in connect_steps(done):
        where = wire.index(f"→ {step.end.replace(f'-{step.part}:', ':')}", where) + 1


@pytest.mark.drawing
def test_the_usual_cautions_are_kept(site: Path) -> None:
    dead = plain(section(site, NAME, "dead"))
    assert "Danger of electric shock" in dead
    assert "-W1.BN hangs loose" in dead
    assert "prove both ends off their old circuit" in dead
    out = plain(section(site, NAME, "out"))
    assert "Link to take out: factory-link" in out
    assert "it would be live if heating controls came back" in out
    assert "nothing fitted speaks over such a terminal" in out
    wire = plain(section(site, NAME, "wire"))
    assert "Everything stays locked off" in wire
    assert "land this only when every core above is landed and checked" in wire
    assert "brown sleeve at both ends" in wire


@pytest.mark.drawing
def test_two_circuits_in_one_box_have_their_notice_in_the_section_on_making_dead(site: Path
                                                                                 ) -> None:
    dead = plain(section(site, "two-supplies-to-one-isolation", "dead"))
    assert "a notice while the work lasts" in dead
    assert "Two circuits in this box" in dead


@pytest.mark.drawing
@pytest.mark.parametrize("name", CONVERSIONS)
def test_the_materials_stand_on_the_page_and_in_a_file_beside_it(site: Path, name: str) -> None:
    text = (site / "conversions" / f"{name}.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    wanted = materials(combinations(name)[0])
    assert [row["what"] for row in rows] == [material.what for material in wanted]
    page = site / "conversions" / name / "index.html"
    assert f"../{name}.csv" in read_page(page).links
    take = plain(section(site, name, "take"))
    assert len(take) > 0
    for material in wanted:
        assert plain(material.what.replace("<", " ")) in take.replace("&#34;", '"').replace(
            "&#39;", "'").replace("&amp;", "&"), material


@pytest.mark.drawing
@pytest.mark.parametrize("name", CONVERSIONS)
def test_setting_up_stands_after_every_safety_test(site: Path, name: str) -> None:
    live = section(site, name, "live")
    if 'id="join"' in live:
        before, after = live.split('id="join"')
        assert " · safety test" in before
        assert " · safety test" not in after
        first = plain(before.partition('id="test-1"')[0])
        assert "Nothing is joined or set up before the last safety test" in first
        assert "Called away before it: every supply off, fuse out, locked." in first


@pytest.mark.drawing
def test_what_a_person_of_another_competence_fixes_or_empties_is_marked_there(site: Path) -> None:
    # Approved Document G 3.40; GSIUR 1998 regulation 3.
    wire = plain(section(site, NAME, "wire"))
    fixing = wire.partition("Bring every cable in")[0]
    assert fixing.count("Fitted only by a person competent for unvented hot water.") == 2
    out = plain(section(site, NAME, "out").partition('id="out-more"')[2])
    assert "Opened only by a person competent for unvented hot water." in out
    hung = plain(section(site, "older-boiler-to-pump-overrun", "wire"))
    assert "Hung, piped and flued only by a person on the gas register." in hung


@pytest.mark.drawing
def test_a_heater_given_back_its_supply_comes_on_at_the_consumer_unit_by_its_new_name(site: Path
                                                                                     ) -> None:
    name = "immersion-heater-back-on-its-circuit"
    live, wire = (plain(section(site, name, anchor)) for anchor in ("live", "wire"))
    unit = live.index("At the consumer unit: lock off, the way of immersion heater on.")
    assert unit < live.index("Switch on immersion heater at -Q2 immersion switch: switch on.")
    assert "-E2 immersion heater, cylinder" in wire.partition('Fix on the wall')[2]
    check = plain(section(site, name, "check-dead"))
    assert "heating element of -E2, about 18 Ω" in check


@pytest.mark.drawing
def test_an_overrun_has_its_test_and_the_function_tests_keep_their_heading(site: Path) -> None:
    name = "older-boiler-to-pump-overrun"
    live = section(site, name, "live")
    said = plain(live)
    assert "The last call ends while the burner burns, and the pump runs on · safety test" in said
    assert "By-pass cold, or the limiter trips" in said
    further = live.partition('id="further"')[2]
    assert "hb-safety" not in further
    assert further.count("<article") == len(
        [case for case in combinations(name)[0].job.job.conversion.expect
         if case.tried and f": {case.name}</h3>" in further])


@pytest.mark.drawing
def test_a_plug_is_read_at_its_pins_and_what_is_drawn_out_is_not_checked_again(site: Path) -> None:
    # Line, neutral and earth of a drawn plug: HSE GS38 and HSG85.
    name = "two-supplies-to-one-isolation"
    dead, check = (plain(section(site, name, anchor)) for anchor in ("dead", "check-dead"))
    assert "At its pins L to N, L to E, N to E: 0 V. No probe into the socket" in dead
    assert ":pin-L" in dead
    assert ":supply-" not in dead.partition("-Q3 plug of the boiler, kitchen")[2]
    assert "-Q1 stays shut" in check
    assert "-Q3 stays shut" not in check
