"""The questions of one file and the answers of systems: read, or refused in their place."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.findings import Finding, Unreadable
from generator.pipeline import check
from generator.recipe.library import Library
from generator.recipe.meeting import all_met
from generator.recipe.signs import NO_SIGNS
from generator.recipe.signs_file import read_signs
from tests.circuit.flagship import RECIPES

CLOSED = "closed-family-two-zones-electronic-cylinder"
SIGNS = "on-the-wall"
LINE = "  motorised-valves: two-two-port"


@pytest.fixture
def recipes(tmp_path: Path) -> Path:
    return Path(shutil.copytree(RECIPES, tmp_path / "recipes"))


def seen(recipes: Path, line: str) -> tuple[Finding, ...]:
    """Return what is found of the found system when one line of `seen` is another."""
    file = recipes / "systems" / f"{CLOSED}.yaml"
    text = file.read_text(encoding="utf-8")
    assert text.count(f"\n{LINE}\n") == 1
    file.write_text(text.replace(f"\n{LINE}\n", f"\n{line}\n"), encoding="utf-8")
    return check(recipes, [file]).findings


def place_of(line: str) -> int:
    text = (RECIPES / "systems" / f"{CLOSED}.yaml").read_text(encoding="utf-8")
    return text[:text.index(LINE)].count("\n") + 1


@pytest.mark.parametrize("line", [
    LINE, "  motorised-valves: [two-two-port]", "  motorised-valves: [one-two-port, two-two-port]",
])
def test_one_answer_or_a_list_of_them_is_read(recipes: Path, line: str) -> None:
    assert seen(recipes, line) == ()


@pytest.mark.parametrize(("line", "rule", "column", "hint"), [
    ("  motorised-valve: two-two-port", "unknown-question", 3, "motorised-valves"),
    ("  motorised-valves: two-two-ports", "unknown-answer", 21, "two-two-port"),
    ("  motorised-valves: [none, two-two-ports]", "unknown-answer", 28, "two-two-port"),
    ("  chimney: brick", "unknown-question", 3, ""),
    ("  motorised-valves: Two valves", "wrong-shape", 21, ""),
    ("  motorised-valves: []", "wrong-shape", 21, ""),
    ("  motorised-valves: {one: two}", "wrong-shape", 21, ""),
])
def test_a_mistake_is_told_at_its_line_and_column(
        recipes: Path, line: str, rule: str, column: int, hint: str) -> None:
    (finding,) = seen(recipes, line)
    first = finding.places[0]
    assert (finding.rule, first.file) == (rule, f"recipes/systems/{CLOSED}.yaml")
    assert (first.line, first.column) == (place_of(LINE), column)
    assert hint in finding.hint


def test_without_the_file_no_question_is_known(recipes: Path) -> None:
    shutil.rmtree(recipes / "signs")
    assert read_signs(Library(recipes)) is NO_SIGNS
    findings = seen(recipes, LINE)
    assert {finding.rule for finding in findings} == {"unknown-question"}
    assert findings[0].expected == "no question at all"


def test_a_mistake_in_the_questions_is_told_there_and_not_as_unknown(recipes: Path) -> None:
    (recipes / "signs" / f"{SIGNS}.yaml").write_text("kind: signs\nquestion: {}\n")
    (finding,) = seen(recipes, LINE)
    assert (finding.rule, finding.places[0].file) == (
        "unknown-key", f"recipes/signs/{SIGNS}.yaml")
    with pytest.raises(Unreadable):
        all_met(Library(recipes))


def test_a_name_nobody_looks_for_is_refused(recipes: Path) -> None:
    file = (recipes / "signs" / f"{SIGNS}.yaml").rename(recipes / "signs" / "elsewhere.yaml")
    (finding,) = check(recipes, [file]).findings
    assert finding.rule == "wrong-file-name"
    assert f"{SIGNS}.yaml" in finding.expected


def test_a_question_with_one_answer_is_none(recipes: Path) -> None:
    file = recipes / "signs" / f"{SIGNS}.yaml"
    file.write_text("kind: signs\nquestions:\n  fuel:\n    asks: What fires it?\n"
                    "    when: before opening\n    answers: {gas: Gas}\n")
    (finding,) = check(recipes, [file]).findings
    assert (finding.rule, finding.places[0].line) == ("wrong-shape", 6)


def test_a_variant_says_only_what_differs(recipes: Path) -> None:
    (recipes / "systems" / "made.yaml").write_text(
        f"kind: variant\nname: made\nstands: found\nabout: made\nextends: {CLOSED}\n"
        "seen: {fuel: oil}\n")
    met = {one.name: one for one in all_met(Library(recipes)).systems}
    assert met["made"].answers("fuel") == ("oil",)
    assert met["made"].answers("on-cylinder") == met[CLOSED].answers("on-cylinder") == ("sensor",)


def test_met_is_what_is_found_and_what_a_conversion_starts_from() -> None:
    met = all_met(Library(RECIPES))
    starts = [start.name for one in met.systems for start in one.starts]
    assert sorted(starts) == [path.stem for path in Library(RECIPES).files("conversions")]
    assert all(one.starts or one.system.stands == "found" for one in met.systems)
    assert "two-zone-wireless-receiver-vented-cylinder" not in {
        one.name for one in met.systems if not one.starts}
