"""A valve head comes and goes with its flex: its cores are handled at the strip alone."""

from __future__ import annotations

from generator.sitework.end_steps import connect_steps, take_out_steps
from generator.sitework.materials import materials
from tests.sitework.jobs import combinations

DONE = combinations("mid-position-to-two-valves")[0]
HEADS = {"M1", "M2", "M3"}


def test_no_core_is_taken_off_or_landed_inside_a_head():
    steps = [*take_out_steps(DONE), *connect_steps(DONE)]
    assert not [step.does for step in steps if step.core and step.part in HEADS]
    assert [step.does for step in steps if step.does.startswith("Take out -M1")]


def test_every_core_of_its_flex_is_handled_at_the_strip():
    off = {(step.cable, step.core) for step in take_out_steps(DONE) if step.part == "X1"}
    on = {(step.cable, step.core) for step in connect_steps(DONE) if step.part == "X1"}
    assert {("W7", colour) for colour in ("WH", "GY", "OG", "BU", "GNYE")} <= off
    assert {(cable, colour) for cable in ("W9", "W10")
            for colour in ("BN", "BU", "GY", "OG", "GNYE")} <= on


def test_its_flex_is_not_bought_besides():
    lines = materials(DONE)
    assert {line.what for line in lines if line.kind == "part"} == {
        "heating valve", "hot-water valve", "wireless receiver"}
    assert not [line for line in lines if line.kind == "cable"]


def test_a_cable_that_no_part_comes_with_is_bought():
    lines = materials(combinations("gravity-to-pumped-two-zone")[0])
    assert [(line.amount, line.what) for line in lines if line.kind == "cable"] == [
        ("2.2 m", "heat-resisting flex, 5 x 0.75 mm²")]
