"""`handbook plan` and `handbook materials`: every step and everything to take, as text and data."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from generator.command_line import main
from generator.sitework.step import Phase
from tests.circuit.flagship import NAME, flagship
from tests.sitework.jobs import CONVERSIONS, combinations

ROOT = Path(__file__).parents[1]
GOLDEN = Path(__file__).parent / "sitework" / "golden" / f"{NAME}.txt"


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["--project", str(ROOT), *words]) == 0
    return capsys.readouterr().out


def test_the_plan_of_the_flagship_is_the_one_that_was_read_line_by_line(
        capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, "plan", NAME) == GOLDEN.read_text(encoding="utf-8")


def test_json_has_every_phase_in_order_and_every_handled_end(
        capsys: pytest.CaptureFixture[str]) -> None:
    shown = json.loads(said(capsys, "plan", NAME, "--format", "json"))
    assert [each["phase"] for each in shown["phases"]] == [phase.value for phase in Phase]
    steps = {each["phase"]: each["steps"] for each in shown["phases"]}
    assert all(steps.values())
    landed = [(step["cable"], step["core"], step["to"]) for step in steps["connect"]]
    assert len(landed) == len(set(landed))
    cores = {(name, colour, f"-{end}") for name, cable in flagship().job.fitted.cables.items()
             for colour, core in cable.laid.cores.items() for end in (core.from_, core.to) if end}
    assert {each for each in landed if each[2] and " and " not in each[2]} <= cores
    assert [step["core"] for step in steps["connect"] if step["parts-or-joins-supply"]] == ["BN"]
    assert {step["sleeve"] for step in steps["connect"]} == {"", "BN"}


def test_a_torque_is_said_only_where_the_part_states_it(
        capsys: pytest.CaptureFixture[str]) -> None:
    shown = json.loads(said(capsys, "plan", NAME, "--format", "json"))
    stated = [step for phase in shown["phases"] for step in phase["steps"]
              if step["torque-nm"] or step["strip-mm"]]
    assert stated == []


def test_materials_are_told_as_text_csv_and_json(capsys: pytest.CaptureFixture[str]) -> None:
    rows = list(csv.DictReader(io.StringIO(said(capsys, "materials", NAME, "--format", "csv"))))
    listed = json.loads(said(capsys, "materials", NAME, "--format", "json"))
    text = said(capsys, "materials", NAME)
    assert [row["what"] for row in rows] == [each["what"] for each in listed]
    assert all(row["what"] in text for row in rows)
    assert {"part", "cable", "link", "sleeve", "connector", "label", "besides"} <= {
        row["kind"] for row in rows}
    cable = next(row for row in rows if row["kind"] == "cable")
    # One metre with 10 % spare (common practice, no source).
    assert (cable["number"], cable["unit"]) == ("1.1", "m")


def test_a_combination_is_asked_for_by_its_own_name(capsys: pytest.CaptureFixture[str]) -> None:
    other = next(done.job.job.name for name in CONVERSIONS for done in combinations(name)
                 if "--" in done.job.job.name)
    assert said(capsys, "plan", other)


def test_a_conversion_that_is_not_there_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--project", str(ROOT), "plan", NAME[:-1]]) == 2
    assert f"did you mean `{NAME}`?" in capsys.readouterr().out
    assert main(["--project", str(ROOT), "materials", f"{NAME}--nothing"]) == 2


@pytest.mark.parametrize(("asked", "other"), [
    ("combination-boiler-time-switch-to-wireless", "--wired"),
    ("combination-boiler-time-switch-to-wireless--wired", ""),
])
def test_a_plan_says_how_another_way_is_asked_for(capsys, asked, other):
    assert main(["--project", str(ROOT), "plan", asked]) == 0
    choice = capsys.readouterr().out.splitlines()[1]
    assert choice.endswith(f"`combination-boiler-time-switch-to-wireless{other}`.")
