"""Miswirings of a mid-position system met in the trade, and what they do.

Rows M19, M48, M50 and M51: common practice, no source; symptoms from an independent nodal
simulation of the circuit that the part's page describes.
"""

from __future__ import annotations

from functools import cache

import pytest

from generator.checks.subject import subject
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source
from tests.parts.bench import RECIPES, Bench

FILE = RECIPES / "systems" / "mid-position-vented-cylinder.yaml"
STARTS = {"B": (), "M": ("M1.heating-way",), "A": ("M1.heating-way", "M1.hot-water-way")}
HEATING, WATER, WATER_HOT = "K1.heating", "K1.hot-water", "B1.water"
M48 = ('BN: {from: K1:water-off, to: X1:8, does: "switched live, hot water off"}',
       "BN: {made-safe: left off}")
M50 = ('OG: {from: M1:orange, to: X1:9, does: "switched live, boiler"}',
       "OG: {made-safe: left off}")
M51_WHITE = ("WH: {from: X1:6, to: M1:white", "WH: {from: X1:8, to: M1:white")
M51_GREY = ("GY: {from: X1:8, to: M1:grey", "GY: {from: X1:6, to: M1:grey")


@cache
def miswired(*edits: tuple[str, str]) -> Bench:
    text = FILE.read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    document = read_document("recipes/systems/miswired.yaml", text.encode())
    source = Source("miswired", document, shaped(document))
    assert isinstance(source.model, System)
    return Bench(subject(read_wall(Library(RECIPES), source)))


def stands(on: Bench, worked: tuple[str, ...], start: str) -> tuple[str, bool]:
    """Return where the valve comes to rest, B, M or A, and whether the burner is on."""
    state = on.settled(*worked, *STARTS[start])
    left, heating = (on.worked(state, f"M1.{way}") for way in ("heating-way", "hot-water-way"))
    place = {(False, False): "B", (True, False): "M", (True, True): "A"}[left, heating]
    return place, on.fires(state)


@pytest.mark.parametrize("start", STARTS)
def test_m19_without_power_it_stands_open_to_hot_water(start: str) -> None:
    on = miswired()
    isolated = on.system.motion.settle(on.state(*STARTS[start]))
    assert not on.worked(isolated, "M1.heating-way")
    assert not on.worked(isolated, "M1.hot-water-way")


@pytest.mark.parametrize("start", STARTS)
def test_m48_grey_not_on_hot_water_off_heats_only_while_hot_water_is_on(start: str) -> None:
    on = miswired(M48)
    assert stands(on, (HEATING,), start) == ("M", False)
    assert stands(on, (HEATING, WATER, WATER_HOT), start) == ("A", True)


@pytest.mark.parametrize("start", STARTS)
def test_m50_orange_not_connected_moves_to_heating_with_the_boiler_silent(start: str) -> None:
    on = miswired(M50)
    assert stands(on, (HEATING,), start) == ("A", False)
    assert stands(on, (WATER,), start) == ("B", True)
    assert stands(on, (HEATING, WATER), start) == ("M", True)


@pytest.mark.parametrize("start", STARTS)
def test_m51_white_and_grey_swapped_looks_right_until_both_call(start: str) -> None:
    on = miswired(M51_WHITE, M51_GREY)
    assert stands(on, (WATER,), start) == ("B", True)
    assert stands(on, (HEATING,), start) == ("A", True)


@pytest.mark.parametrize("stays", ["B", "A"])
def test_m51_with_both_calling_it_stays_where_it_was(stays: str) -> None:
    on = miswired(M51_WHITE, M51_GREY)
    assert stands(on, (HEATING, WATER), stays) == (stays, True)


def test_m51_holds_the_motor_in_the_middle_while_nothing_calls() -> None:
    on = miswired(M51_WHITE, M51_GREY)
    state = on.settled()
    assert on.worked(state, "M1.heating-way")
    assert not on.worked(state, "M1.hot-water-way")
    assert on.runs(state, "M1.white")
    assert not on.fires(state)
