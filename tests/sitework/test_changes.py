"""Every part, cable, core and link of the found and the fitted system has exactly one fate."""

from __future__ import annotations

from collections import Counter

from generator.recipe.conversions import Conversion
from generator.recipe.reader import read_job
from generator.sitework.changes import Fate, changes
from tests.circuit.flagship import flagship
from tests.parts.bench import LIBRARY, RECIPES

JOB = flagship().job
CHANGES = changes(JOB)


def test_every_part_has_exactly_one_fate() -> None:
    named = Counter(part.designation for part in CHANGES.parts)
    assert named == dict.fromkeys({*JOB.found.parts, *JOB.fitted.parts}, 1)


def test_every_core_has_exactly_one_fate() -> None:
    cores = {(name, colour) for wall in (JOB.found, JOB.fitted)
             for name, cable in wall.cables.items() for colour in cable.laid.cores}
    named = Counter((core.cable, core.colour) for core in CHANGES.cores())
    assert named == dict.fromkeys(cores, 1)


def test_the_immersion_cable_is_taken_over_whole() -> None:
    cable = next(c for c in CHANGES.cables if c.designation == "W5")
    assert cable.fate is Fate.REUSED
    assert {core.fate for core in cable.cores} == {Fate.REUSED}


def test_what_one_end_keeps_moves_and_what_is_new_is_new() -> None:
    fates = {f"{core.cable}.{core.colour}": core.fate for core in CHANGES.cores()}
    assert fates["W2.GY"] is Fate.MOVES
    assert fates["W4.BK"] is Fate.NEW
    assert fates["W4.GY"] is Fate.MADE_SAFE
    assert fates["W6.BN"] is Fate.NEW
    assert fates["W9.WH"] is Fate.REMOVED


def test_the_factory_link_comes_out() -> None:
    link = next(link for link in CHANGES.links if link.cable == "factory-link")
    assert link.fate is Fate.REMOVED
    assert link.after is None


def test_a_cable_whose_part_at_one_end_is_replaced_is_not_taken_over_from_elsewhere() -> None:
    # The grey core changes its terminal at both ends, and still leads to the strip.
    source = LIBRARY.source(RECIPES / "conversions" / "gravity-to-pumped-two-zone.yaml")
    assert isinstance(source.model, Conversion)
    cables = changes(read_job(LIBRARY, source, source.model)).cables
    (programmers,) = (cable for cable in cables if cable.designation == "W6")
    assert {core.colour: core.fate for core in programmers.cores} == dict.fromkeys(
        ("BN", "BU", "BK", "GY", "GNYE"), Fate.MOVES)
    assert not [cable for cable in cables if cable.fate is Fate.REUSED]
