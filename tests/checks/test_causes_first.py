"""Which rules are asked of what: causes before consequences, and what is found only warns."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.checks.catalogue import FOUND_RULES, JOB_RULES, ON_PAPER, SYSTEM_RULES
from generator.findings import Finding, Severity
from generator.judging.judged import Judged
from generator.judging.recipes import judge
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.shapes import shaped
from generator.recipe.wall import Source
from generator.sitework.catalogue import SITE_JOB_RULES, SITE_RULES
from tests.checks.edited import CONVERSION, FITTED, FOUND, RECIPES

Text = tuple[str, str, str]
"""A file and what becomes of a stretch of it that stands there once."""

SWAPPED: Text = (FITTED, "BU: {from: X1:3, to: K1:N,", "BU: {from: X1:2, to: K1:N,")


def judged(file: str, *edits: Text) -> Judged:
    library = Library(RECIPES)
    for edited, old, new in edits:
        path = RECIPES / edited
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1
        document = read_document(edited, text.replace(old, new).encode())
        library.read[path] = Source(Path(edited).stem, document, shaped(document))
    return judge(library, library.source(RECIPES / file))[0]


def asked(each: Judged) -> tuple[str, ...]:
    return tuple(rule.name for rule, _ in each.verdicts)


def names(rules: tuple) -> tuple[str, ...]:
    return tuple(rule.name for rule in rules)


def test_a_conversion_to_a_sound_system_is_asked_everything() -> None:
    each = judged(CONVERSION)
    assert asked(each) == names((*SYSTEM_RULES, *JOB_RULES, *SITE_RULES, *SITE_JOB_RULES))
    assert each.waits_for == ""


def test_a_conversion_to_a_faulty_system_is_asked_only_what_stands_on_paper() -> None:
    each = judged(CONVERSION, SWAPPED)
    assert asked(each) == names((*SYSTEM_RULES, *ON_PAPER))
    assert each.waits_for == Path(FITTED).stem
    assert "behaviour-unlike-expected" not in {finding.rule for finding in each.findings}


def test_a_warning_about_the_system_keeps_nothing_from_being_asked() -> None:
    each = judged(CONVERSION, (FITTED, "  - at: E2\n", "  - at: E1\n"))
    assert [(f.rule, f.severity) for f in each.findings] == [
        ("part-without-conductor", Severity.WARNING)]
    assert each.waits_for == ""


FAULTS_FOUND = {
    "line on neutral": (
        "line-meets-neutral", "is joined to neutral",
        (FOUND, "\nlinks:\n", "\nlinks:\n  short: {from: Q2:load-L, to: Q2:load-N, does: no}\n")),
    "spare core not written down": (
        "core-left-loose", "Nothing is said of `GY` in the cable `W4`",
        (FOUND, "      GY: {made-safe: both ends in terminal connectors}\n", "")),
    "heater on neutral twice": (
        "load-never-runs", "`E2.element` is wired at both ends and never runs",
        (FOUND, "BN: {from: Q2:load-L, to: E2:L,", "BN: {from: Q2:load-N, to: E2:L,")),
}
"""What was written down wrongly of a found system: the rule, words of its message, the edit."""


def test_the_found_flagship_is_asked_and_clean() -> None:
    each = judged(FOUND)
    assert asked(each) == names(FOUND_RULES)
    assert all(verdict.asked for _, verdict in each.verdicts)
    assert each.findings == ()


@pytest.mark.parametrize("fault", FAULTS_FOUND.values(), ids=FAULTS_FOUND)
def test_what_is_wrong_in_a_found_system_warns(fault: tuple[str, str, Text]) -> None:
    rule, words, edit = fault
    findings: tuple[Finding, ...] = judged(FOUND, edit).findings
    assert [finding.rule for finding in findings if words in finding.message] == [rule]
    assert {finding.severity for finding in findings} == {Severity.WARNING}


def test_what_a_closed_part_decides_is_no_load_that_never_runs() -> None:
    # The valves of the found flagship hang on a box whose inside nobody knows.
    verdicts = dict(judged(FOUND).verdicts)
    never = next(verdict for rule, verdict in verdicts.items() if rule.name == "load-never-runs")
    assert never.asked == 1
