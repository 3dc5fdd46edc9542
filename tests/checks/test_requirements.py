"""What published guidance asks of heating and hot water holds for every system that is fitted.

Approved Document L volume 1 (2021 edition) and Approved Document G (2015 edition with 2016
amendments), each statement written from its clause and asked of every settled state of the model;
no rule of the catalogue has a part in it.
"""

from __future__ import annotations

from functools import cache

import pytest

from generator.checks.subject import Subject, job_subject, subject
from generator.circuit.elements import Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.recipe.combining import combinations
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.reader import read_combination
from tests.checks.edited import RECIPES, edited_system

LIBRARY = Library(RECIPES)
UNVENTED = "unvented cylinder"


@cache
def fitted() -> dict[str, Subject]:
    """Return what each conversion fits, in every combination that is offered."""
    found: dict[str, Subject] = {}
    for path in LIBRARY.files("conversions"):
        source = LIBRARY.source(path)
        assert isinstance(source.model, Conversion)
        for each in combinations(source, source.model):
            if not each.refused:
                found[each.name] = job_subject(read_combination(LIBRARY, each)).fitted
    return found


def zones(kind: str = "") -> list:
    return [pytest.param(system, zone, id=f"{name}, {zone.name}")
            for name, system in fitted().items() for zone in system.circuit.zones
            if not kind or zone.stores == kind or (kind == "any" and zone.stores != "nothing")]


def circulates(system: Subject) -> Table:
    """Return when a boiler burns or a pump runs."""
    burns = (system.potentials.fires(source) for source in system.circuit.heat_sources
             if source.heats == "water in circulation")
    pumps = (system.potentials.runs(load) for load in system.circuit.loads if load.kind == "pump")
    return table_or([*burns, *pumps])


def called(system: Subject, zone: Zone) -> Table:
    return system.potentials.condition(zone.call)


def burns(system: Subject) -> Table:
    return table_or(system.potentials.fires(source) for source in system.circuit.heat_sources
                    if source.heats == "water in circulation")


def test_a_dozen_conversions_and_their_choices_are_asked() -> None:
    assert len(fitted()) >= 14
    assert len({zone.values[1].stores for zone in zones()}) == 3


def without_demand(system: Subject) -> Table:
    """Return the settled states in which heat source or pump is on and no zone calls."""
    calls = table_or(called(system, zone) for zone in system.circuit.zones)
    assert system.settled & ~calls
    assert system.settled & calls & circulates(system)
    return system.settled & circulates(system) & ~calls


@pytest.mark.parametrize("name", fitted())
def test_with_no_demand_heat_source_and_pump_are_off(name: str) -> None:
    # Approved Document L 5.15; fitted wherever an existing system with a boiler is worked on: 5.25.
    assert not without_demand(fitted()[name])


def test_gravity_hot_water_breaks_that_with_the_room_warm() -> None:
    # Common practice, no source: the boiler goes on firing on its own dial.
    found = subject(edited_system("systems/gravity-hot-water-pumped-heating.yaml"))
    index, potentials = found.circuit.index, found.potentials
    warm = potentials.condition(((index["K9.heating"], True), (index["K9.hot-water"], False),
                                 (index["B2.air"], True)))
    assert without_demand(found) & warm


@pytest.mark.parametrize(("system", "zone"), zones("any"))
def test_stored_hot_water_has_a_time_control_of_its_own(system: Subject, zone: Zone) -> None:
    # Approved Document L 5.16: independent of heating; so each can be had without the other.
    others = table_or(called(system, each) for each in system.circuit.zones if each is not zone)
    own, on = called(system, zone), system.settled & burns(system)
    assert on & own & ~others
    assert on & others & ~own
    kinds = [system.circuit.variables[v].kind for v, _ in zone.call]
    assert kinds.count("call") == 1
    timed = {v for v, _ in zone.call if system.circuit.variables[v].kind == "call"}
    assert not timed & {v for each in system.circuit.zones if each is not zone
                        for v, _ in each.call}


@pytest.mark.parametrize(("system", "zone"), zones("any"))
def test_stored_hot_water_has_a_temperature_control_that_ends_its_heating(
    system: Subject, zone: Zone
) -> None:
    # Approved Document L 5.16 and 5.26: electronic temperature control, as a cylinder thermostat.
    (thermostat, cold), = ((v, value) for v, value in zone.call
                           if system.circuit.variables[v].kind == "temperature")
    others = table_or(called(system, each) for each in system.circuit.zones if each is not zone)
    satisfied = system.settled & system.potentials.condition(((thermostat, not cold),)) & ~others
    assert satisfied
    assert not satisfied & burns(system)


@pytest.mark.parametrize(("system", "zone"), zones(UNVENTED))
def test_an_unvented_cylinder_has_a_cut_out_that_a_person_resets(
    system: Subject, zone: Zone
) -> None:
    # Approved Document G 3.17 and 3.18: non-self-resetting, besides the control thermostat.
    (cut_out, tripped), *_ = zone.cut_out
    variable = system.circuit.variables[cut_out]
    assert (variable.kind, variable.resets, tripped) == ("cut-out", "by hand", True)
    assert cut_out not in {v for v, _ in zone.call}


@pytest.mark.parametrize(("system", "zone"), zones(UNVENTED))
def test_its_cut_out_shuts_the_valve_whatever_else_calls(system: Subject, zone: Zone) -> None:
    # Approved Document G 3.28 and 3.30: at once, by way of a motorised valve in the primary flow.
    tripped = system.potentials.condition(zone.cut_out)
    cases = system.settled & tripped & table_or(
        called(system, each) for each in system.circuit.zones)
    assert cases
    assert not cases & system.opened(zone)
    assert not system.reachable & tripped & table_or(
        system.potentials.runs(motor) for motor in system.motors(zone))


@pytest.mark.parametrize(("system", "zone"), zones(UNVENTED))
def test_its_valve_shuts_when_its_supply_is_lost(system: Subject, zone: Zone) -> None:
    # Approved Document G 3.31, second half by inference: a spring, no motor, shuts it.
    fed = table_or(system.potentials.runs(motor) for motor in system.motors(zone))
    assert system.reachable & fed
    dead = system.settled & system.potentials.space.no(fed)
    assert dead
    assert not dead & system.opened(zone)
