"""`handbook faults`: how every single fault shows, which look alike, how long each takes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.circuit.faults import single_faults
from generator.command_line import main
from tests.circuit.flagship import flagship

ROOT = Path(__file__).parents[1]
SYSTEM = "two-zone-wireless-receiver-cylinder-cut-out"


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["--project", str(ROOT), "faults", *words]) == 0
    return capsys.readouterr().out


def test_every_fault_is_counted_once_by_kind(capsys: pytest.CaptureFixture[str]) -> None:
    lines = said(capsys, SYSTEM).splitlines()
    total = len(single_faults(flagship().fitted.circuit))
    at = lines.index(f"{total} single faults of {SYSTEM}")
    numbers = [int(part.split()[0]) for line in lines[:at]
               for part in line.split(": ")[1].split(", ")]
    assert sum(numbers) == total
    assert any(line.startswith("never shows, because ") for line in lines)
    assert any(line.startswith("look alike, group 1 of ") for line in lines)
    assert "measurements" not in "".join(lines)


def test_the_finder_is_said_when_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, SYSTEM, "--finder")
    assert "Heating calls: heating valve open, boiler burner off: 14 faults" in text
    assert "a judgement, no source" in text


def test_json_says_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    shown = json.loads(said(capsys, SYSTEM, "--finder", "--format", "json"))
    faults, finder = shown["faults"], shown["finder"]
    assert len(faults) == len(single_faults(flagship().fitted.circuit))
    assert all(bool(fault["shows"]) != bool(fault["why-never"]) for fault in faults)
    assert all(len(group) > 1 for group in shown["alike"])
    for complaint in finder["complaints"]:
        assert complaint["faults"]
        assert complaint["expected"] <= complaint["worst"]
        assert all(faults[number]["shows"] for number in complaint["faults"])
    assert finder["costs"] == {"reading": 1, "control": 2, "valve": 2, "lid": 3, "isolating": 3}


def test_a_system_with_a_closed_part_says_why_no_complaint_is_followed(
        capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "closed-family-two-zones-electronic-cylinder", "--finder")
    assert "a closed part decides what runs" in text


def test_a_system_that_is_not_there_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--project", str(ROOT), "faults", "two-zone"]) == 2
    assert "a system's name or file" in capsys.readouterr().out
