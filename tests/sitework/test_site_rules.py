"""Every wiring on the page of a rule about tests is run, and the rule is asked where it should."""

from __future__ import annotations

import pytest

from generator.checks.examples import HEADERS, Example, examples
from generator.checks.rule import Rule
from generator.checks.subject import subject
from generator.judging.recipes import judge
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source
from generator.sitework.catalogue import EVERY_RULE, SITE_JOB_RULES, SITE_RULES
from generator.sitework.rules.fault_shows_in_no_test import RULE, judge_job
from tests.checks.test_rule_pages import run
from tests.circuit.flagship import RECIPES, flagship


def cases() -> list:
    return [pytest.param(rule, each, id=f"{rule.name}-{'faulty' if each.faulty else 'mended'}")
            for rule in SITE_RULES for each in examples(rule.page.read_text())]


@pytest.mark.parametrize(("rule", "example"), cases())
def test_a_page_says_what_is_found(rule: Rule, example: Example) -> None:
    document = read_document("example.yaml", (HEADERS["system"] + example.text).encode())
    made = Source("example", document, shaped(document))
    assert isinstance(made.model, System)
    verdict = rule.judge(subject(read_wall(Library(RECIPES), made)))
    assert verdict.asked > 20
    assert bool(verdict.findings) == example.faulty, verdict.findings
    messages = " ".join(finding.message for finding in verdict.findings)
    assert len(verdict.findings) == len(example.marks)
    assert all(words in messages for words in example.marks.values())


def job_cases() -> list:
    return [pytest.param(rule, each, id=f"{rule.name}-{i}-{'faulty' if each.faulty else 'mended'}")
            for rule in SITE_JOB_RULES
            for i, each in enumerate(examples(rule.page.read_text()))]


@pytest.mark.parametrize(("rule", "example"), job_cases())
def test_a_page_about_conversions_says_what_is_found(rule: Rule, example: Example) -> None:
    asked, said = run(rule, example)
    assert asked > 0
    assert bool(said) == example.faulty, said
    for line, words in example.marks.items():
        there = [finding for finding, lines in said
                 if (lines[0] == line if line in example.first else line in lines)]
        assert any(words in finding.message for finding in there), said
    assert all(set(lines) & set(example.marks) for _, lines in said)


@pytest.mark.parametrize("rule", [*SITE_RULES, *SITE_JOB_RULES], ids=lambda rule: rule.name)
def test_a_rule_has_a_page_a_basis_and_both_kinds_of_example(rule: Rule) -> None:
    assert rule.page.stem.replace("_", "-") == rule.name
    assert {example.faulty for example in examples(rule.page.read_text())} == {True, False}
    assert rule.basis
    assert [each.name for each in EVERY_RULE].count(rule.name) == 1


def test_the_flagship_hides_no_fault_and_every_fault_of_it_is_asked_about() -> None:
    job = flagship()
    for verdict in (RULE.judge(job.fitted), judge_job(job)):
        assert verdict.findings == ()
        assert verdict.asked > 150


def asked(folder: str, name: str) -> bool:
    library = Library(RECIPES)
    judged = judge(library, library.source(RECIPES / folder / f"{name}.yaml"))[0]
    return RULE.name in [rule.name for rule, _ in judged.verdicts]


def test_a_standard_system_and_a_conversion_are_asked_and_a_found_system_is_not() -> None:
    job = flagship()
    assert asked("systems", job.job.fitted.name)
    assert asked("conversions", job.job.name)
    assert not asked("systems", job.job.found.name)
