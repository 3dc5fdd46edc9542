"""A fault that only a point inside a part would show is no gap in the tests; one that heats is."""

from __future__ import annotations

from generator.checks.subject import Subject, subject
from generator.circuit.faults import single_faults
from generator.recipe.reader import read_wall
from generator.sitework.unseen import INSIDE, MISSED, SHUT, why_never
from tests.parts.bench import LIBRARY, RECIPES, bench

BURNER = RECIPES / "systems" / "oil-burner-wireless.yaml"
MIDDLE = RECIPES / "systems" / "mid-position-wireless-receiver.yaml"


def unseen(subject: Subject, why: str) -> set[str]:
    """Return the faults that would be left for this reason if nothing at all were looked at."""
    return {fault.words for fault in single_faults(subject.circuit)
            if why_never(subject, fault, None) == why}


def test_the_winding_behind_both_feeds_changes_nothing_outside_the_head():
    on = subject(read_wall(LIBRARY, LIBRARY.source(MIDDLE)))
    assert unseen(on, INSIDE) == {"`M1.winding` burnt out"}


def test_a_bridge_inside_a_heater_lets_it_heat_and_is_missed():
    # The only difference inside the head is a point where nothing lands; the element runs on it.
    on = bench("E2 immersion-heater", "L E2:L, N E2:N, E E2:E").system
    assert "`E2:after-thermostat` and `E2:after-cut-out` bridged" in unseen(on, MISSED)
    assert not unseen(on, INSIDE)


def test_a_core_is_wrong_only_at_the_end_where_it_is_wrong():
    # The pump stays shut on this job: nobody who opens the strip sees how it was wired.
    on = subject(read_wall(LIBRARY, LIBRARY.source(BURNER)))
    wrong = "core `W5.BN` on `G1:N`, not `G1:L`"
    (fault,) = (each for each in single_faults(on.circuit) if each.words == wrong)
    assert why_never(on, fault, {"X1", "K1"}) == SHUT
    assert why_never(on, fault, {"X1", "G1"}) == MISSED
