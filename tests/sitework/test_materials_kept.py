"""What is on the wall already is not taken along again: labels and sleeves of our own work."""

from __future__ import annotations

from functools import cache

import pytest

from generator.checks.subject import job_subject
from generator.recipe.conversions import Conversion
from generator.recipe.reader import read_job
from generator.sitework.materials import Material, materials
from generator.sitework.work import work
from tests.circuit.flagship import RECIPES
from tests.sitework.shipped import LIBRARY


@cache
def taken(name: str) -> tuple[Material, ...]:
    source = LIBRARY.source(RECIPES / "conversions" / f"{name}.yaml")
    assert isinstance(source.model, Conversion)
    return materials(work(job_subject(read_job(LIBRARY, source, source.model))))


@pytest.mark.parametrize(("name", "labels", "sleeves"), [
    # Two blue cores more become lines in the garage, two at the manifold; one is sleeved already.
    ("frost-protection-added", {"-X2", "-B4"}, 4),
    ("underfloor-zone-added", {"-K3", "-X2", "-M3"}, 4),
    ("second-heating-zone-added", {"-K1", "-K2", "-M3"}, 0),
])
def test_only_new_labels_and_sleeves_are_taken_along(
    name: str, labels: set[str], sleeves: int
) -> None:
    lines = taken(name)
    new = [m for m in lines if m.kind == "label" and "is on”" not in m.what]
    assert {m.used_for.removeprefix("at ") for m in new} == labels
    assert len(new) == len(labels)
    assert sum(m.number for m in lines if m.kind == "sleeve") == sleeves


def test_a_label_whose_words_change_is_taken_along() -> None:
    said = {m.used_for for m in taken("immersion-heater-back-on-its-circuit") if m.kind == "label"}
    assert {"at -Q2", "at -E2", "consumer unit"} <= said
