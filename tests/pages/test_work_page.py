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
