"""Every core that is landed on the job has one step, and the supply's own cable is the last."""

from __future__ import annotations

from collections import Counter

from generator.sitework.changes import Fate, changes
from generator.sitework.wiring_steps import wiring_steps
from tests.circuit.flagship import flagship

JOB = flagship()
CHANGES = changes(JOB.job)
WORK = wiring_steps(CHANGES, JOB.fitted.circuit)


def test_every_core_that_changes_has_exactly_one_step() -> None:
    landed = {(c.cable, c.colour) for c in CHANGES.cores()
              if c.after and c.fate is not Fate.STAYS}
    steps = Counter((step.cable, step.colour) for work in WORK if work.cable for step in work.steps)
    assert steps == dict.fromkeys(landed, 1)
    assert len(landed) == 25


def test_every_new_link_has_a_step() -> None:
    links = [work for work in WORK if not work.cable]
    assert [len(work.steps) for work in links] == [6]


def test_links_come_first_and_the_supply_last() -> None:
    assert WORK[0].cable == ""
    assert [work.cable for work in WORK if work.supply_side] == ["W1"]
    assert WORK[-1].supply_side


def test_earth_is_landed_before_neutral_and_neutral_before_line() -> None:
    turn = {"GNYE": 0, "BU": 1}
    for work in WORK:
        if work.cable:
            order = [turn.get(step.sleeve or step.colour, 2) for step in work.steps]
            assert order == sorted(order), work.cable


def test_a_step_says_which_end_is_there_already() -> None:
    steps = {(s.cable, s.colour): s for work in WORK for s in work.steps}
    assert steps["W2", "BN"].stays == "M1:motor"
    assert steps["W5", "BU"].stays == ""
    assert steps["W5", "BU"].sleeve == "BN"
