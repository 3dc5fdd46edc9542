"""Who fixes a part, brings a cable into it or empties it is said at the step itself.

Gas: GSIUR 1998 regulation 3; unvented: Approved Document G 3.40; oil: from memory.
"""

from __future__ import annotations

from generator.sitework.other_steps import author_steps, fix_steps
from tests.circuit.flagship import NAME
from tests.sitework.jobs import combinations


def cautions(name: str, does: str) -> list[str]:
    done = combinations(name)[0]
    return [caution for step in (*fix_steps(done, "", ""), *author_steps(done))
            if step.does.startswith(does) for caution in step.caution]


def test_thermostat_and_cut_out_of_an_unvented_cylinder_are_fitted_by_the_right_person() -> None:
    for does in ("Fix -B1", "Fix -F2", "Bring into -B1"):
        assert any("only by a person competent for unvented" in each
                   for each in cautions(NAME, does)), does
    assert not cautions(NAME, "Fix -X1")


def test_on_a_vented_cylinder_its_thermostat_is_anybodys() -> None:
    assert not cautions("gravity-to-pumped-two-zone", "Fix -B1")


def test_a_boiler_is_hung_by_a_person_on_the_gas_register_and_a_cable_brought_in_as_well() -> None:
    name = "older-boiler-to-pump-overrun"
    assert cautions(name, "Fix -E2") == [
        "Hung, piped and flued only by a person on the gas register."]
    for does in ("Bring into -E2", "Lay -W9"):
        assert any("gas register" in each for each in cautions(name, does)), does


def test_an_authors_step_at_a_head_or_a_boiler_says_who_does_it() -> None:
    assert any("unvented" in each for each in cautions(NAME, "At the immersion heater"))
    assert not cautions(NAME, "At the immersion switch")
    assert not cautions(NAME, "At the consumer unit")
    assert any("gas register" in each
               for each in cautions("two-supplies-to-one-isolation", "At the boiler"))
