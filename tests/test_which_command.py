"""`handbook which`: the questions that lead from a wall to its conversion, as text and JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.command_line import main
from generator.recipe.library import Library
from generator.recipe.meeting import all_met

ROOT = Path(__file__).parents[1]


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["--project", str(ROOT), "which", *words]) == 0
    return capsys.readouterr().out


def test_every_question_offers_a_way_out(capsys: pytest.CaptureFixture[str]) -> None:
    lines = said(capsys).splitlines()
    asked = [line for line in lines if line[0].isdigit() and ". " in line[:5]]
    assert asked
    assert lines.count("   something else: none of these: stop, ask") == len(asked)
    assert sum(line.startswith("   cannot tell") for line in lines) == len(asked)
    assert "a judgement, no source" in lines[-2]


def test_every_system_that_is_met_is_named_with_what_starts_there(
        capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys)
    for met in all_met(Library(ROOT / "recipes")).told:
        starts = "; ".join(start.name for start in met.starts)
        assert f"{met.name}: {starts or 'no conversion starts here yet: stop, ask'}" in text


def test_json_says_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    shown = json.loads(said(capsys, "--format", "json"))
    steps = shown["steps"]
    names = {system["name"] for system in shown["systems"]}
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    for step in steps:
        assert len(step["answers"]) > 1
        for reply in (*step["answers"], step["cannot"]):
            assert bool(reply["then"]) != bool(reply["systems"])
            assert reply["then"] <= len(steps)
            assert set(reply["systems"]) <= names
    assert shown["bound"] <= shown["expected"] <= shown["worst"]
    assert shown["exact"]
    assert shown["unanswered"] >= 1


def test_recipes_that_cannot_be_read_are_refused(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "recipes" / "systems").mkdir(parents=True)
    (tmp_path / "recipes" / "systems" / "x.yaml").write_text("kind: system\n")
    assert main(["--project", str(tmp_path), "which"]) == 2
    assert "missing-key" in capsys.readouterr().out
