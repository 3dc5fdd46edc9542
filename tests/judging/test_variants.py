"""A variant is its base with named changes, and what they break is told at their line."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.findings import Finding, Unreadable
from generator.judging.recipes import judge
from generator.recipe.library import Library
from generator.recipe.reader import read_wall
from generator.recipe.systems import System
from tests.checks.edited import CONVERSION, RECIPES
from tests.judging.written import written

HEAD = """\
kind: variant
name: The flagship, otherwise
stands: standard
about: One thing is otherwise.
extends: two-zone-wireless-receiver-cylinder-cut-out
"""
BASE = RECIPES / "systems" / "two-zone-wireless-receiver-cylinder-cut-out.yaml"


def findings(changes: str) -> tuple[Finding, ...]:
    library = Library(RECIPES)
    source = written(library, "systems/otherwise.yaml", HEAD + changes)
    try:
        return judge(library, source)[0].findings
    except Unreadable as unreadable:
        return unreadable.findings


def line(changes: str, words: str) -> int:
    return next(i for i, text in enumerate((HEAD + changes).splitlines(), 1) if words in text)


def test_a_variant_that_changes_nothing_is_its_base():
    library = Library(RECIPES)
    variant = read_wall(library, written(library, "systems/otherwise.yaml", HEAD)).system
    base = read_wall(library, library.source(BASE)).system
    own = {"name", "stands", "about"}
    assert variant.model_dump(exclude=own) == base.model_dump(exclude=own)
    assert variant.name == "The flagship, otherwise"


@pytest.mark.parametrize(("changes", "rule", "words"), [
    ("changes:\n  less:\n    why: Tidied.\n    remove:\n      links:\n        - neutral-link\n",
     "load-without-neutral", "- neutral-link"),
    ("changes:\n  less:\n    why: Tidied.\n    move:\n      W3.OG: {to: X1:8}\n"
     "  more:\n    why: Labels.\n    add:\n      notices:\n"
     "        - {at: X1, text: Ring us.}\n",
     "output-fed-backwards", "W3.OG"),
    ("changes:\n  less:\n    why: Tidied.\n    replace:\n      parts:\n"
     "        F2: {is: overheat-cut-out-self-resetting, at: cylinder, inside: B1}\n",
     "cut-out-resets-itself", "F2: {is"),
])
def test_what_a_change_breaks_is_told_first_at_its_line(changes, rule, words):
    found = [finding for finding in findings(changes) if finding.rule == rule]
    assert found, rule
    for finding in found:
        assert any((place.file, place.line) == ("recipes/systems/otherwise.yaml",
                                                line(changes, words))
                   for place in finding.places[:2]), finding


def test_a_name_that_a_change_takes_away_is_told_at_the_change():
    changes = "changes:\n  less:\n    why: Tidied.\n    remove:\n      parts:\n        - B1\n"
    found = [finding for finding in findings(changes) if finding.rule == "unknown-designation"]
    assert len(found) > 5
    for finding in found:
        assert finding.places[0].line == line(changes, "- B1")
        assert finding.places[0].note == "this change brings it"
        assert finding.places[-1].file.endswith(BASE.name)


def test_two_changes_that_mend_each_other_say_nothing():
    changes = ("changes:\n  other-ways:\n    why: Room.\n    move:\n"
               "      W2.BN: {from: X1:10}\n      room-thermostat-link: {to: X1:10}\n")
    assert findings(changes) == ()


def test_every_shipped_variant_reads_as_the_system_that_it_writes_out_to():
    library = Library(RECIPES)
    paths = [path for path in library.files("systems")
             if library.source(Path(path)).model.kind == "variant"]
    assert paths
    for path in paths:
        wall = read_wall(library, library.source(path))
        again = System.model_validate(wall.system.model_dump(by_alias=True), by_alias=True)
        assert again == wall.system
        assert wall.source.document.digest != library.source(path).document.digest


def test_a_digest_changes_with_the_base():
    def digest(base: str) -> str:
        library = Library(RECIPES)
        written(library, f"systems/{BASE.name}", base)
        source = written(library, "systems/otherwise.yaml", HEAD)
        return read_wall(library, source).source.document.digest

    text = BASE.read_text(encoding="utf-8")
    assert digest(text) == digest(text)
    assert digest(text) != digest(text + "# seen\n")


def test_a_conversion_tells_what_keeps_a_variant_from_being_read_in_the_same_words():
    library = Library(RECIPES)
    changes = "changes:\n  less:\n    why: Tidied.\n    remove:\n      parts:\n        - B1\n"
    written(library, "systems/otherwise.yaml", HEAD + changes)
    conversion = (RECIPES / CONVERSION).read_text(encoding="utf-8")
    source = written(library, CONVERSION, conversion.replace(
        "\nfitted: two-zone-wireless-receiver-cylinder-cut-out", "\nfitted: otherwise"))
    with pytest.raises(Unreadable) as raised:
        judge(library, source)
    assert set(raised.value.findings) == set(findings(changes))


@pytest.mark.parametrize(("wrong", "rule"), [
    ("move: {W2.BN: {to: M1:moter}}", "unknown-terminal"),
    ("remove: {links: [neutral-lnk]}", "nothing-to-change"),
    ("replace: {parts: {K1: {is: receiver-three-channel, at: hall}}}", "unknown-part"),
])
def test_a_mistake_in_an_offer_is_told_though_nobody_asks_for_it(wrong, rule):
    offer = f"offers:\n  other:\n    why: Asked for by nobody.\n    {wrong}\n"
    (finding,) = findings(offer)
    assert finding.rule == rule
    assert finding.places[0].line == line(offer, wrong)


def test_a_core_landed_wrongly_in_a_replaced_cable_is_told_at_its_line():
    cores = "\n".join(f"            {each}" for each in (
        'BN: {from: X1:4, to: M1:motor, does: "switched live, heating valve"}',
        "BU: {from: X1:4, to: M1:N, does: neutral}",
        "GY: {from: X1:2, to: M1:switch-in, does: permanent line}",
        'OG: {from: M1:switch-out, to: X1:9, does: "switched live, boiler"}',
        "GNYE: {from: X1:12, to: M1:E, does: earth}"))
    changes = ("changes:\n  other:\n    why: Tidied.\n    replace:\n      cables:\n"
               "        W2:\n          is: valve-flex-5-core\n          length: 1\n"
               f"          cores:\n{cores}\n")
    told = findings(changes)
    assert told
    wrong = line(changes, "BN: {from: X1:4")
    assert [f.places[0].line for f in told if f.rule == "load-never-runs"] == [wrong]
