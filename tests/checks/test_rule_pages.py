"""Every wiring on a rule's page is run: found is what its comments say, no more and no less."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.checks.catalogue import JOB_RULES, RULES, SYSTEM_RULES
from generator.checks.examples import HEADERS, Example, examples, page
from generator.checks.rule import Known, Rule
from generator.checks.subject import job_subject, subject
from generator.findings import Finding
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_job, read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source

RECIPES = Path(__file__).parents[2] / "recipes"


def source(name: str, header: str, text: str, library: Library, folder: str) -> Source:
    """Return a section of an example as if it stood in the recipes folder."""
    content = HEADERS[header] + text
    document = read_document(f"{name}.yaml", content.encode())
    made = Source(name, document, shaped(document))
    library.read[library.root / folder / f"{name}.yaml"] = made
    return made


Said = list[tuple[Finding, list[int]]]
"""Findings, each with the lines of the fence that its places stand on, in order; 0 elsewhere."""


def run(rule: Rule, example: Example) -> tuple[int, Said]:
    """Return how much a rule asked of an example, and what it said on which lines."""
    library = Library(RECIPES)
    if rule in SYSTEM_RULES:
        made = source("example", "system", example.text, library, "systems")
        assert isinstance(made.model, System)
        verdict = rule.judge(subject(read_wall(library, made)))
        skipped = {"example.yaml": -HEADERS["system"].count("\n")}
    else:
        found, fitted, conversion = example.sections
        source("found", "found", found, library, "systems")
        source("fitted", "system", fitted, library, "systems")
        made = source("conversion", "conversion", conversion, library, "conversions")
        assert isinstance(made.model, Conversion)
        verdict = rule.judge(job_subject(read_job(library, made, made.model)))
        fitted_starts = found.count("\n") + 1
        skipped = {
            "found.yaml": -HEADERS["found"].count("\n"),
            "fitted.yaml": fitted_starts - HEADERS["system"].count("\n"),
            "conversion.yaml": fitted_starts + fitted.count("\n") + 1
            - HEADERS["conversion"].count("\n"),
        }
    return verdict.asked, [
        (finding, [place.line + skipped[place.file] if place.file in skipped else 0
                   for place in finding.places])
        for finding in verdict.findings]


def cases() -> list:
    return [
        pytest.param(rule, each, id=f"{rule.name}-{i}-{'faulty' if each.faulty else 'mended'}")
        for rule in RULES for i, each in enumerate(examples(page(rule.name).read_text()))]


@pytest.mark.parametrize(("rule", "example"), cases())
def test_a_page_says_what_is_found(rule: Rule, example: Example) -> None:
    asked, said = run(rule, example)
    assert asked > 0, "the example never meets the rule's premise"
    assert bool(said) == example.faulty, said
    for finding, lines in said:
        assert set(lines) & set(example.marks), f"no comment stands where this was found: {finding}"
    for line, words in example.marks.items():
        there = [finding for finding, lines in said
                 if line in (lines[:1] if line in example.first else lines)]
        assert any(words in finding.message for finding in there), f"line {line}: {there}"


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rule_has_a_page_a_basis_and_both_kinds_of_example(rule: Rule) -> None:
    text = page(rule.name).read_text()
    kinds = {example.faulty for example in examples(text)}
    assert kinds == {True, False}
    assert text.startswith("# ")
    assert rule.basis
    assert all(basis.text and basis.known in Known for basis in rule.basis)
    assert all("BS" in b.text or "IEC" in b.text or "EN " in b.text or "Document" in b.text
               or "regulation" in b.text.lower() or "HSG" in b.text or "HSE" in b.text
               for b in rule.basis if b.known is Known.PUBLISHED)


def test_every_rule_file_is_in_the_catalogue_once() -> None:
    folder = page("x").parent
    files = {path.stem.replace("_", "-") for path in folder.glob("*.py")} - {"--init--"}
    pages = {path.stem.replace("_", "-") for path in folder.glob("*.md")}
    names = [rule.name for rule in RULES]
    assert len(names) == len(set(names))
    assert files == pages == set(names)
    assert not set(SYSTEM_RULES) & set(JOB_RULES)
