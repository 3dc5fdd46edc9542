"""How a part shows that it works is told only of what a supply comes to in the fitted system."""

from __future__ import annotations

import pytest

from generator.pages.views import conversion_view
from tests.circuit.flagship import NAME
from tests.sitework.jobs import combinations


def told(name: str) -> set[str]:
    view = conversion_view(combinations(name)[0].job, ())
    return {said.split()[0] for said, _ in view.signs}


def test_a_heater_left_without_supply_is_not_said_to_show_that_it_heats() -> None:
    assert combinations(NAME)[0].job.fitted.wall.parts["E2"].part.signs
    assert "-E2" not in told(NAME)


@pytest.mark.parametrize(("name", "works"), [
    (NAME, {"-E1", "-M1", "-M2", "-B1", "-F2", "-K1"}),
    ("immersion-heater-back-on-its-circuit", {"-E2", "-E1"})])
def test_what_has_a_supply_is(name: str, works: set[str]) -> None:
    assert works <= told(name)
