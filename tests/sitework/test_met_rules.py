"""The rules about all systems together: their pages, and the recipes they are asked about."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from hypothesis import given

from generator.checks.examples import Example, examples
from generator.checks.rule import Rule
from generator.findings import Finding
from generator.pipeline import Handbook, check
from generator.recipe.met import AllMet, Met, Start
from generator.recipe.parsing import read_document
from generator.recipe.shapes import shaped
from generator.recipe.signs import Signs
from generator.recipe.systems import System
from generator.recipe.wall import Source
from generator.sitework.catalogue import EVERY_RULE, MET_RULES
from generator.sitework.rules import found_systems_look_alike
from tests.circuit.flagship import RECIPES
from tests.sitework.met_systems import made, met, question

SIGNS = "kind: signs\n"
SYSTEM = ("kind: system\nstands: found\nabout: an example\n"
          "supplies: {controls: {says: a, line: Q1:L, neutral: Q1:N, earth: Q1:E, "
          "isolated-by: {Q1.switch: \"off\"}}}\nparts: {Q1: {is: switch, at: b}}\n")
"""What every example would repeat; the page leaves it out."""


def read(name: str, head: str, text: str) -> Source:
    document = read_document(f"{name}.yaml", (head + text).encode())
    return Source(name, document, shaped(document))


def meeting(example: Example) -> AllMet:
    """Return the questions of an example's first section, and the systems of the others."""
    signs, *systems = example.sections
    model = read("signs", SIGNS, signs).model
    assert isinstance(model, Signs)
    return AllMet(model, tuple(_met(f"s{i}", text) for i, text in enumerate(systems)))


def _met(name: str, text: str) -> Met:
    source = read(name, SYSTEM, text)
    assert isinstance(source.model, System)
    return Met(source, source.model, (Start(f"from-{name}", "A job"),))


def lines(example: Example, finding: Finding) -> list[int]:
    """Return the lines of the fence on which a finding's places stand, in order."""
    starts, at = {}, 0
    for i, section in enumerate(example.sections):
        starts[f"s{i - 1}.yaml"] = at
        at += section.count("\n") + 1
    head = SYSTEM.count("\n")
    return [place.line - head + starts[place.file] for place in finding.places]


def cases() -> list:
    return [pytest.param(rule, each, id=f"{rule.name}-{'faulty' if each.faulty else 'mended'}")
            for rule in MET_RULES for each in examples(rule.page.read_text())]


@pytest.mark.parametrize(("rule", "example"), cases())
def test_a_page_says_what_is_found(rule: Rule, example: Example) -> None:
    verdict = rule.judge(meeting(example))
    assert verdict.asked > 0
    assert bool(verdict.findings) == example.faulty
    for finding in verdict.findings:
        assert set(lines(example, finding)) <= set(example.marks)
    for line, words in example.marks.items():
        there = [each for each in verdict.findings if line in (
            lines(example, each)[:1] if line in example.first else lines(example, each))]
        assert any(words in each.message for each in there)


@pytest.mark.parametrize("rule", MET_RULES, ids=lambda rule: rule.name)
def test_a_rule_has_a_page_a_basis_and_both_kinds_of_example(rule: Rule) -> None:
    assert rule.page.stem.replace("_", "-") == rule.name
    assert {example.faulty for example in examples(rule.page.read_text())} == {True, False}
    assert rule.basis
    assert [each.name for each in EVERY_RULE].count(rule.name) == 1


@given(made())
def test_look_alikes_are_those_that_some_box_could_be_both_of(systems: AllMet) -> None:
    # A box is both if to every question it can show something that each of the two may show.
    def shown(one: Met, name: str) -> set[str]:
        return {*(one.answers(name) or systems.signs.questions[name].answers)}

    expected = {
        (one.name, other.name) for one in systems.told for other in systems.told
        if one.name < other.name
        and all(shown(one, name) & shown(other, name) for name in systems.signs.questions)}
    found = found_systems_look_alike.judge(systems).findings
    assert {tuple(place.file.removesuffix(".yaml") for place in each.places)
            for each in found} == expected


def test_two_systems_from_which_nothing_starts_are_not_asked_about() -> None:
    verdict = found_systems_look_alike.judge(
        met({"valves": question("one", "two")}, [{"valves": ["one"]}] * 2, start=False))
    assert (verdict.asked, verdict.findings) == (0, ())


@pytest.fixture
def recipes(tmp_path: Path) -> Path:
    """A few of the shipped recipes: one conversion, what it needs, and another found system."""
    root = Path(shutil.copytree(RECIPES, tmp_path / "recipes"))
    kept = {"electronic-cylinder-to-wireless-two-zone", "mid-position-vented-cylinder",
            "closed-family-two-zones-electronic-cylinder",
            "two-zone-wireless-receiver-cylinder-cut-out"}
    for path in [*root.glob("systems/*.yaml"), *root.glob("conversions/*.yaml")]:
        if path.stem not in kept:
            path.unlink()
    return root


def edited(recipes: Path, name: str, old: str, new: str) -> Path:
    file = recipes / "systems" / f"{name}.yaml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
    return file


def named(handbook: Handbook) -> list[str]:
    return [finding.rule for finding in handbook.findings]


CLOSED = "closed-family-two-zones-electronic-cylinder"


def test_a_start_of_which_nothing_is_seen_is_found_where_all_is_asked_for(recipes: Path) -> None:
    file = recipes / "systems" / f"{CLOSED}.yaml"
    before, _, rest = file.read_text(encoding="utf-8").partition("seen:\n")
    after = rest[rest.index("supplies:\n"):]
    file.write_text(before + after, encoding="utf-8")
    assert named(check(recipes, [recipes])) == ["found-system-shows-nothing"]
    assert named(check(recipes, [file])) == []


def test_two_shipped_systems_made_to_look_alike_are_found(recipes: Path) -> None:
    file = recipes / "systems" / f"{CLOSED}.yaml"
    text = file.read_text(encoding="utf-8")
    seen = text[text.index("seen:\n"):text.index("supplies:\n")]
    edited(recipes, CLOSED, seen, "seen: {fuel: gas}\n")
    (finding,) = check(recipes, [recipes]).findings
    assert finding.rule == "found-systems-look-alike"
    assert [place.file for place in finding.places] == [
        f"recipes/systems/{CLOSED}.yaml", "recipes/systems/mid-position-vented-cylinder.yaml"]
    assert finding.places[0].text == "seen: {fuel: gas}"


def test_the_rules_are_counted_among_those_that_were_asked(recipes: Path) -> None:
    handbook = check(recipes, [recipes])
    assert handbook.findings == ()
    assert {rule.name: verdict.asked for rule, verdict in handbook.together} == {
        "found-system-shows-nothing": 1, "found-systems-look-alike": 1}
