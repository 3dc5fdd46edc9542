"""Trials where two circuits work at once: cases with one of them isolated keep their names.

That a circuit which comes over no strip is proved dead at what it feeds: HSE guidance GS38 and
HSG85; which terminal that is, common practice.
"""

from __future__ import annotations

from functools import cache

import pytest

from generator.checks.subject import JobSubject, job_subject
from generator.recipe.conversions import Conversion
from generator.recipe.reader import read_job
from generator.sitework.changes import changes
from generator.sitework.coverage import Shows, coverage
from generator.sitework.isolation import opened_parts
from generator.sitework.live_tests import live_tests
from generator.sitework.signs import site
from generator.sitework.trials import Trials, trials
from tests.circuit.flagship import RECIPES
from tests.sitework.shipped import LIBRARY, shipped
from tests.sitework.shipped import tried as tried_in


@cache
def put_back() -> JobSubject:
    source = LIBRARY.source(RECIPES / "conversions" / "immersion-heater-back-on-its-circuit.yaml")
    assert isinstance(source.model, Conversion)
    return job_subject(read_job(LIBRARY, source, source.model))


@cache
def tried() -> Trials:
    job = put_back()
    covered = coverage(job.fitted, opened_parts(changes(job.job)))
    return trials(job.fitted, covered, job.job.conversion.expect)


@pytest.mark.parametrize("name", [
    "Nothing calls, immersion heater off", "Own cut-out of the heater tripped while all call",
    "Controls isolated, immersion heater on", "Immersion heater isolated, controls on",
    "Both isolated while all call"])
def test_a_case_with_one_circuit_isolated_is_tried_by_its_name(name: str) -> None:
    assert name in [trial.name for trial in tried().trials if trial.safety]


def test_the_heater_is_proved_dead_at_its_own_terminals_and_only_while_isolated() -> None:
    fitted = put_back().fitted
    assert {each.terminal for each in site(fitted).proved} == {"E2:L"}
    off = fitted.potentials.condition(next(
        supply.isolated for supply in fitted.circuit.supplies if supply.name == "immersion"))
    read = [trial for trial in tried().trials if ("E2:L", "E2:E") in trial.reads]
    assert read
    assert all(off >> fitted.motion.settle(trial.setting) & 1 for trial in read)


def test_a_switch_of_the_heater_that_does_not_open_shows_by_that_reading() -> None:
    faults = {each.fault.words: each for each in coverage(put_back().fitted).faults}
    assert faults["contact `Q2.line-pole` never opens"].surest is Shows.READING


def test_a_cut_out_inside_the_heater_is_tried_by_nobody_beside_one_that_is() -> None:
    faults = {each.fault.words: each for each in coverage(put_back().fitted).faults}
    welded = faults["contact `E2.cut-out-contact` never opens"]
    assert welded.shows == ()
    assert "only as its maker says" in welded.why_never


def test_what_joins_two_supplies_shows_while_one_is_isolated_and_the_other_on() -> None:
    # Two supplies in one box, nothing seen in use: BS 7671 514.11.1, from memory.
    name = "two-zone-programmer-boiler-on-own-plug"
    circuit = shipped(name).circuit
    shown_by = [trial for trial in tried_in(name).trials
                if any("core `W2.GY` on `X1:1`" in words for words in trial.shows)]
    assert len(shown_by) == 1
    isolators = [v for v, each in enumerate(circuit.variables) if each.kind == "isolator"]
    on = [v for v in isolators if shown_by[0].setting >> v & 1]
    assert len(isolators) == 2
    assert len(on) == 1
    assert any(circuit.variables[v].name in shown_by[0].name for v in set(isolators) - set(on))


@pytest.mark.parametrize(("name", "isolated", "to_earth"), [
    ("Nothing calls, immersion heater off", True, False),
    ("Controls isolated, immersion heater on", True, True),
    ("Both isolated while all call", True, True), ("Heating calls", False, False)])
def test_readings_are_to_earth_only_where_the_strip_has_lost_its_neutral(
    name: str, isolated: bool, to_earth: bool
) -> None:
    told = {test.name: test for test in live_tests(put_back().fitted, tried())}
    assert (told[name].isolated, told[name].to_earth) == (isolated, to_earth)
    if to_earth:
        assert {each.against for each in told[name].readings} == {"X1:11"}
