"""Whole systems of these parts: the mid-position truth table, and what fires a combination boiler.

Truth table: worked out from one public explanation of one common inside; that the programmer's off
output and the satisfied contact must both feed grey: common practice, no source.
"""

from __future__ import annotations

from functools import cache

import pytest

from generator.checks.subject import subject
from generator.recipe.reader import read_wall
from generator.recipe.systems import System
from generator.recipe.variants import Variant
from tests.circuit.slow_walk import SlowMotion
from tests.circuit.test_against_slow_walk import as_sets, differences, walked
from tests.parts.bench import FED, LIBRARY, RECIPES, Bench

STARTS = {"B": (), "M": ("M1.heating-way",), "A": ("M1.heating-way", "M1.hot-water-way")}
HEATING, WATER = "K1.heating", "K1.hot-water"
ROOM_WARM, WATER_HOT = "B2.air", "B1.water"
# What is worked; ends from B, M and A; white, grey and switched line: 1 is 230 V.
TABLE = [
    ("programmer off", (), "BAA", "010"),
    ("both satisfied, programmer on", (HEATING, WATER, ROOM_WARM, WATER_HOT), "BAA", "010"),
    ("hot water only", (WATER,), "BBB", "001"),
    ("heating only, hot water off at the programmer", (HEATING,), "AAA", "111"),
    ("heating only, hot water satisfied", (HEATING, WATER, WATER_HOT), "AAA", "111"),
    ("both", (HEATING, WATER), "MMM", "101"),
]
ROWS = [(worked, start, end, live) for _, worked, ends, live in TABLE
        for start, end in zip("BMA", ends, strict=True)]


@cache
def system(name: str) -> Bench:
    source = LIBRARY.source(RECIPES / "systems" / f"{name}.yaml")
    assert isinstance(source.model, System | Variant)
    return Bench(subject(read_wall(LIBRARY, source)))


def mid_position() -> Bench:
    return system("mid-position-vented-cylinder")


@pytest.mark.parametrize(("worked", "start", "end", "live"), ROWS)
def test_the_mid_position_system_does_what_the_truth_table_says(
    worked: tuple[str, ...], start: str, end: str, live: str
) -> None:
    on = mid_position()
    state = on.settled(*worked, *STARTS[start])
    assert [on.worked(state, f"M1.{p}") for p in ("heating-way", "hot-water-way")] == [
        end in "MA", end == "A"]
    for terminal, is_live in zip(("M1:white", "M1:grey", "E1:control-in"), live, strict=True):
        assert (on.reads(state, terminal) == "230 V") == (is_live == "1")
    assert on.fires(state) == on.runs(state, "G1.motor") == (live[2] == "1")


@pytest.mark.parametrize("start", STARTS)
def test_it_rests_open_to_the_cylinder_when_the_supply_is_off(start: str) -> None:
    on = mid_position()
    state = on.system.motion.settle(on.state("Q1.fuse", HEATING, *STARTS[start]))
    assert not on.worked(state, "M1.heating-way")


def test_the_valve_is_never_at_heating_without_having_left_hot_water() -> None:
    on = mid_position()
    space, index = on.system.motion.space, on.system.circuit.index
    left, heating = (space.variables[index[f"M1.{p}"]] for p in ("heating-way", "hot-water-way"))
    assert on.system.reachable & heating
    assert not on.system.reachable & heating & ~left


def test_white_and_the_room_thermostat_are_fed_backwards_while_it_runs_back() -> None:
    on = mid_position()
    running_back = on.state(*FED, WATER, ROOM_WARM, *STARTS["A"])
    assert on.system.reachable >> running_back & 1
    assert [on.reads(running_back, t) for t in ("M1:white", "B2:call")] == ["230 V", "230 V"]
    assert on.reads(on.settled(WATER, ROOM_WARM), "B2:call") != "230 V"


@pytest.mark.parametrize("name", ["combination-boiler-wireless",
                                  "combination-boiler-volt-free-wireless"])
@pytest.mark.parametrize("calls", [False, True])
def test_a_combination_boiler_heats_while_its_receiver_calls(name: str, calls: bool) -> None:
    on = system(name)
    assert on.fires(on.settled(*([HEATING] if calls else []))) == calls


def test_the_volt_free_pair_meets_no_mains() -> None:
    on = system("combination-boiler-volt-free-wireless")
    assert not {"E1:call-1", "E1:call-2", "K1:common", "K1:on"} & on.system.ever_live


@pytest.mark.parametrize("name", ["mid-position-vented-cylinder", "combination-boiler-wireless",
                                  "combination-boiler-volt-free-wireless"])
def test_it_is_and_moves_as_walked_state_by_state(name: str) -> None:
    on = system(name).system
    slow = SlowMotion(on.circuit)
    compared, found = differences(on.potentials, slow)
    assert found == []
    assert compared >= 8 * len(on.circuit.terminals)
    assert as_sets(on.motion) == walked(slow)


def test_only_the_mid_position_valve_remembers_and_nothing_ends_by_chance() -> None:
    # Grey alone leaves it where it was: at hot water, or at heating.
    motion = mid_position().system.motion
    assert {mid_position().system.circuit.variables[v].name for v, _ in motion.memories()} == {
        "M1.heating-way", "M1.hot-water-way"}
    assert list(motion.races()) == []
    assert not motion.endless
