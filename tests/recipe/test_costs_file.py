"""The file that says what moves cost: read, refused with its place, looked for by one name."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.pipeline import check
from generator.recipe.costs import USUAL
from generator.recipe.costs_file import read_costs
from generator.recipe.library import Library
from tests.pages.project import copied


@pytest.fixture
def recipes(tmp_path: Path) -> Path:
    return copied(tmp_path) / "recipes"


def write(recipes: Path, text: str, name: str = "fault-finder") -> Path:
    file = recipes / "costs" / f"{name}.yaml"
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return file


def test_without_a_file_costs_are_the_usual_ones(recipes: Path) -> None:
    # A judgement, no source: a reading 1, a control 2, a valve 2, a lid 3; isolating 3 as well.
    shutil.rmtree(recipes / "costs", ignore_errors=True)
    usual = read_costs(Library(recipes))
    assert usual is USUAL
    assert (usual.reading, usual.control, usual.valve, usual.lid, usual.isolating) == (
        1, 2, 2, 3, 3)


def test_a_file_changes_what_it_names_and_nothing_else(recipes: Path) -> None:
    file = write(recipes, "kind: costs\nlid: 20\n")
    handbook = check(recipes, [file])
    assert handbook.findings == ()
    assert handbook.costs == read_costs(Library(recipes)) == USUAL.model_copy(update={"lid": 20})


@pytest.mark.parametrize(("line", "rule"), [
    ("lid: dear", "wrong-shape"), ("reading: 0", "wrong-shape"), ("valve: -1", "wrong-shape"),
    ("cover: 3", "unknown-key"),
])
def test_a_mistake_in_it_is_told_at_its_line(recipes: Path, line: str, rule: str) -> None:
    write(recipes, f"kind: costs\n{line}\n")
    (finding,) = check(recipes, [recipes]).findings
    place = finding.places[0]
    assert (finding.rule, place.file, place.line) == (rule, "recipes/costs/fault-finder.yaml", 2)


def test_a_name_nobody_looks_for_is_refused(recipes: Path) -> None:
    (finding,) = check(recipes, [write(recipes, "kind: costs\n", "prices")]).findings
    assert finding.rule == "wrong-file-name"
    assert "fault-finder.yaml" in finding.expected
