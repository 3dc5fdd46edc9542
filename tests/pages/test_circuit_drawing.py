"""Whatever the circuit: its drawing can be followed, and shows or says every contact and load."""

from __future__ import annotations

import re
from typing import Any, cast

import pytest
from hypothesis import given, settings

from generator.checks.subject import Subject
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.potentials import solve
from generator.pages.circuit_sheet import circuit_sheet
from generator.pages.drawings.circuit import draw_circuit
from generator.pages.drawings.circuit_layout import circuit_plan
from generator.pages.drawings.circuit_plan import Symbol
from generator.recipe.wall import Wall
from tests.circuit.flagship import WALLS, system
from tests.circuit.made_circuits import circuits, relays
from tests.pages.circuit_geometry import check, of_kind


def subject_of(circuit: Circuit) -> Subject:
    """Return a made circuit as a system without any parts."""
    potentials = solve(circuit)
    wall = Wall(cast(Any, None), cast(Any, None), {}, {})
    return Subject(wall, circuit, potentials, move(potentials))


def check_whole(subject: Subject) -> None:
    """Every load and contact is drawn once, or said to be left out."""
    sheet = circuit_sheet(subject)
    drawn = {symbol.key for symbol in of_kind(circuit_plan(sheet), Symbol)}
    said = "; ".join(sheet.undrawn)
    for load in subject.circuit.loads:
        key = f"input-{load.name}-head" if load.volt_free else f"load-{load.name}"
        if not {key, f"load-{load.name}"} & drawn:
            assert f"-{load.name.partition('.')[0]} " in said
    for contact in subject.circuit.contacts:
        if f"contact-{contact.name}" not in drawn:
            assert f"-{contact.name.partition('.')[0]} " in said


@pytest.mark.parametrize("wall", WALLS)
def test_the_circuit_of_a_house_can_be_followed(wall: str) -> None:
    sheet = circuit_sheet(system(wall))
    check(circuit_plan(sheet), sheet)
    check_whole(system(wall))


@settings(max_examples=150, deadline=None)
@given(circuits())
def test_the_drawing_of_any_circuit_can_be_followed(circuit: Circuit) -> None:
    sheet = circuit_sheet(subject_of(circuit))
    check(circuit_plan(sheet), sheet)
    check_whole(subject_of(circuit))


@settings(max_examples=40, deadline=None)
@given(relays())
def test_relays_that_switch_one_another_can_be_followed(circuit: Circuit) -> None:
    sheet = circuit_sheet(subject_of(circuit))
    check(circuit_plan(sheet), sheet)


@settings(max_examples=40, deadline=None)
@given(circuits())
def test_every_id_stands_once_and_the_bytes_are_the_same_again(circuit: Circuit) -> None:
    dot = draw_circuit(circuit_sheet(subject_of(circuit)))
    ids = re.findall(r' id="([^"]+)"', dot)
    assert len(ids) == len(set(ids))
    assert dot == draw_circuit(circuit_sheet(subject_of(circuit)))
