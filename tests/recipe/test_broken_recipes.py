"""Each broken recipe prints exactly what stands beside it; a recipe once broken stays for ever."""

import difflib
from pathlib import Path

import pytest
import yaml

from generator.recipe import parsing
from generator.reports.findings_text import finding_text
from tests.recipe.mistakes import HERE, SOUND, mistakes_in

BROKEN = sorted((HERE / "broken").glob("*.yaml"))


def printed(path: Path) -> str:
    return "\n\n".join(finding_text(finding) for finding in mistakes_in(path)) + "\n"


def differences(path: Path) -> str:
    said = path.with_suffix(".txt").read_text(encoding="utf-8")
    return "\n".join(difflib.unified_diff(
        said.splitlines(), printed(path).splitlines(), "expected", "printed", lineterm=""))


def test_every_broken_recipe_prints_what_stands_beside_it():
    wrong = [f"{path.name}\n{diff}" for path in BROKEN if (diff := differences(path))]
    assert not wrong, "\n\n".join(wrong)


def test_every_broken_recipe_has_its_text_and_every_text_its_recipe():
    texts = sorted((HERE / "broken").glob("*.txt"))
    assert [path.stem for path in texts] == [path.stem for path in BROKEN]
    assert len(BROKEN) > 100


@pytest.mark.parametrize("path", sorted(SOUND.glob("*/*.yaml")), ids=lambda path: path.stem)
def test_the_recipes_beside_the_broken_ones_are_sound(path):
    assert mistakes_in(path) == ()


def test_the_slow_reader_says_the_same_as_the_fast_one(monkeypatch):
    monkeypatch.setattr(parsing, "_LOADER", yaml.SafeLoader)
    wrong = [f"{path.name}\n{diff}" for path in BROKEN if (diff := differences(path))]
    assert not wrong, "\n\n".join(wrong)


@pytest.mark.parametrize(("name", "count"), [
    ("five-misfits-in-one-file", 5),
    ("five-unknown-names-in-one-file", 5),
    ("five-mistakes-in-one-conversion", 5),
])
def test_several_mistakes_in_one_file_are_all_found_in_one_run(name, count):
    mistakes = mistakes_in(HERE / "broken" / f"{name}.yaml")
    assert len({finding.places[0] for finding in mistakes}) == count
