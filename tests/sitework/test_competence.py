"""Who may do what: oil burners are for people competent for oil firing, not for the gas register.

Oil: from memory, as is Approved Document J.
"""

from __future__ import annotations

import pytest

from generator.recipe.conversions import Conversion
from generator.recipe.reader import read_job
from generator.sitework.competence import competences, opener
from tests.checks.edited import FITTED, Edit, edited_system
from tests.sitework.shipped import LIBRARY, RECIPES


def works(name: str) -> dict[str, tuple[str, ...]]:
    source = LIBRARY.source(RECIPES / "conversions" / f"{name}.yaml")
    assert isinstance(source.model, Conversion)
    return {each.who: each.parts for each in competences(read_job(LIBRARY, source, source.model))}


def test_an_oil_boiler_is_left_to_a_person_competent_for_oil():
    said = works("oil-burner-to-wireless-receiver")
    assert {parts for who, parts in said.items() if "oil firing" in who} == {("-E1 oil boiler",)}
    assert not any("gas register" in who for who in said)


def test_a_gas_boiler_is_left_to_the_gas_register():
    said = works("data-bus-thermostat-to-wireless-receiver")
    assert {parts for who, parts in said.items() if "gas register" in who} == {("-E1 boiler",)}
    assert not any("oil firing" in who for who in said)


@pytest.mark.parametrize(("stores", "whose"), [
    ("stores: unvented cylinder", "unvented"), ("stores: vented cylinder", "electrical"),
    ("stores: nothing", "unvented")])
def test_a_thermostat_is_electrical_only_where_the_cylinder_is_said_to_be_vented(stores, whose):
    wall = edited_system(FITTED, Edit(FITTED, "stores: unvented cylinder", stores))
    assert opener(wall.parts["B1"], wall) == whose
