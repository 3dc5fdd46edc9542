"""Where options of two choices meet, a conversion says more than either of them does alone."""

from __future__ import annotations

import pytest

from generator.findings import Unreadable
from generator.judging.recipes import judge
from generator.recipe.library import Library
from generator.sitework.competence import competences
from tests.checks.edited import RECIPES
from tests.judging.written import written

NAME = "wired-programmer-to-wireless-two-zone"
PATH = RECIPES / "conversions" / f"{NAME}.yaml"
TRIPPED = "Cut-out tripped while both call"


@pytest.fixture(scope="module")
def pages():
    library = Library(RECIPES)
    return {each.source.name: each.subject.job
            for each in judge(library, library.source(PATH))}


def test_every_combination_of_two_choices_is_a_page(pages):
    assert list(pages) == [NAME, f"{NAME}--wired", f"{NAME}--unvented",
                           f"{NAME}--unvented--wired"]


@pytest.mark.parametrize(("page", "settings"), [
    ("", None), ("--wired", None),
    ("--unvented", {"K1.heating", "K1.hot-water", "B1.water", "F2.state"}),
    ("--unvented--wired", {"K1.heating", "K1.hot-water", "B1.water", "F2.state", "B2.air"}),
])
def test_a_case_stands_only_where_both_options_are_chosen(pages, page, settings):
    cases = {case.name: set(case.when) for case in pages[NAME + page].conversion.expect}
    assert cases.get(TRIPPED) == settings


def test_an_option_puts_its_own_words_on_the_owners_page(pages):
    plain, wired = (pages[page].conversion.owner for page in (NAME, f"{NAME}--wired"))
    assert plain.changed != wired.changed
    assert plain.use != wired.use
    assert plain.call == wired.call
    assert pages[f"{NAME}--unvented--wired"].conversion.owner == wired


@pytest.mark.parametrize(("page", "named"), [("", False), ("--unvented", True)])
def test_unvented_work_is_named_where_the_cylinder_is_unvented_and_nowhere_else(pages, page, named):
    # Approved Document G (2015 edition with 2016 amendments) 3.40: competence for unvented water.
    about = {each.work: each.parts for each in competences(pages[NAME + page])}
    assert any("unvented" in work for work in about) == named
    assert any("-B1" in part for part in about["Wiring and testing"]) != named


@pytest.mark.parametrize(("old", "new", "rule"), [
    ("when: {cylinder: unvented, room-thermostat: wired}",
     "when: {cylinder: unvented, room-thermostat: wire}", "unknown-option"),
    ("when: {cylinder: unvented, room-thermostat: wired}",
     "when: {cylindre: unvented, room-thermostat: wired}", "unknown-choice"),
])
def test_a_meeting_of_what_is_not_there_is_told_at_its_line(old, new, rule):
    text = PATH.read_text(encoding="utf-8").replace(old, new)
    library = Library(RECIPES)
    source = written(library, f"conversions/{NAME}.yaml", text)
    with pytest.raises(Unreadable) as raised:
        judge(library, source)
    (finding,) = raised.value.findings
    line = next(i for i, each in enumerate(text.splitlines(), 1) if new in each)
    assert (finding.rule, finding.places[0].line) == (rule, line)
