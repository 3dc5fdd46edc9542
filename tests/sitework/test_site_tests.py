"""What a test on site predicts is what the model says and what the author expects."""

from __future__ import annotations

import pytest

from generator.sitework.changes import changes
from generator.sitework.competence import competences
from generator.sitework.coverage import coverage
from generator.sitework.dead_checks import inspections
from generator.sitework.isolation import opened_parts
from generator.sitework.live_tests import live_tests
from generator.sitework.materials import materials
from generator.sitework.trials import trials
from generator.sitework.work import work
from tests.circuit.flagship import flagship

JOB = flagship()
OPENED = opened_parts(changes(JOB.job))
COVERAGE = coverage(JOB.fitted, OPENED)
TRIALS = trials(JOB.fitted, COVERAGE, JOB.job.conversion.expect)
TESTS = {test.name: test for test in live_tests(JOB.fitted, TRIALS)}


def readings(name: str) -> dict[str, str]:
    return {reading.terminal: reading.volts for reading in TESTS[name].readings}


def test_every_trial_is_a_test_and_each_has_a_name_of_its_own() -> None:
    assert list(TESTS) == [trial.name for trial in (*TRIALS.trials, *TRIALS.further)]
    assert len(TESTS) == len(TRIALS.trials) + len(TRIALS.further) > 3


def test_every_safety_case_of_the_author_is_tried() -> None:
    safety = {case.name for case in JOB.job.conversion.expect if case.safety and case.tried}
    assert len(safety) == 5
    assert safety <= {name for name, test in TESTS.items() if test.safety}


def test_what_is_seen_agrees_with_what_the_author_expects() -> None:
    agreed = 0
    for case in JOB.job.conversion.expect:
        if case.name in TESTS:
            seen = {what.split()[0][1:]: word for what, word in TESTS[case.name].seen}
            for what, word in case.then.items():
                assert seen[what.partition(".")[0]] == word, case.name
                agreed += 1
    assert agreed >= 15


def test_the_safety_tests_are_there() -> None:
    # The order and the three that are always made: common practice, no source.
    safety = [test for test in TESTS.values() if test.safety]
    settings = [{(s.part.split()[0], s.word) for s in test.settings} for test in safety]
    assert any({("-F2", "tripped"), ("-K1", "call")} <= each for each in settings)
    assert any(("-Q1", "off") in each for each in settings)
    assert any({s for s in each if s[0] == "-K1"} == {("-K1", "off")} for each in settings)


def test_a_tripped_cut_out_leaves_the_hot_water_motor_dead_and_the_heating_on() -> None:
    # Textbook two-zone voltages, "hot water tripped + heating": common practice, no source.
    shown = readings("Cut-out tripped while both call")
    assert shown["X1:8"] == "0 V"
    assert shown["X1:6" if "X1:6" in shown else "X1:5"] == "230 V"
    assert shown["X1:9"] == "230 V"


def test_isolated_everything_is_read_to_earth_neutral_too() -> None:
    # Common practice: everything in the box dead, both poles; a neutral cut off is no reference.
    test = TESTS["Isolated while both call"]
    assert test.isolated
    assert {reading.against for reading in test.readings} == {"X1:11"}
    assert "X1:3" in {reading.terminal for reading in test.readings}
    assert set(readings(test.name).values()) <= {"0 V", "0 V, nothing drives it"}


def test_what_needs_power_is_set_before_it_is_switched_off() -> None:
    settings = TESTS["Isolated while both call"].settings
    parts = [s.part.split()[0] for s in settings]
    assert parts.index("-Q1") == len(parts) - 1 > parts.index("-K1")
    assert settings[-1].word == "off"


def test_nothing_is_read_live_but_at_the_strip() -> None:
    read = {r.terminal for test in TESTS.values() for r in test.readings}
    read |= {s.terminal for test in TESTS.values() for t in test.traced for s in t.stages}
    assert len(read) > 6
    assert {terminal.partition(":")[0] for terminal in read} == {"X1"}


def test_a_way_to_follow_is_live_all_along_and_names_what_lies_between() -> None:
    name = "Cut-out put back, hot water calls again"
    traced = TESTS[name].traced
    motor = next(each for each in traced if "motor" in each.what)
    assert [stage.terminal for stage in motor.stages] == ["X1:1", "X1:7", "X1:8"]
    assert [stage.then for stage in motor.stages] == [
        ("-K1 wireless receiver",), ("-B1 cylinder thermostat", "-F2 overheat cut-out"),
        ("-M2 hot-water valve",)]
    trial = next(trial for trial in TRIALS.trials if trial.name == name)
    state = JOB.fitted.motion.settle(trial.setting)
    assert all(JOB.fitted.potentials.standing(stage.terminal, state) == "live"
               for stage in motor.stages)


def test_the_cut_out_test_says_how_it_is_brought_about_and_taken_back() -> None:
    names = list(TESTS)
    first = next(name for name in names if any(s.word == "tripped" for s in TESTS[name].settings))
    assert any(s.word == "tripped" and "prove dead" in s.how for s in TESTS[first].settings)
    back = TESTS["Cut-out put back, hot water calls again"].settings
    assert any(s.word == "healthy" and "core back on out" in s.how for s in back)
    assert names.index("Cut-out put back, hot water calls again") > max(
        names.index(name) for name in names if "tripped" in name)


def test_what_no_test_shows_is_looked_at() -> None:
    looked = {each.part: each.looks for each in inspections(JOB.fitted, OPENED)}
    assert any("no bridge" in look for look in looked["-F2 overheat cut-out"])


def test_the_list_of_materials_is_what_is_not_on_the_wall() -> None:
    lines = {(m.amount, m.what) for m in materials(work(JOB))}
    assert ("1.1 m", "flex, 5 x 0.75 mm²") in lines
    assert ("2", "sleeves BN") in lines
    assert ("1", "wireless receiver") in lines
    assert not any("valve" in what for _, what in lines)
    # Both ends of two data leads with two cores each, and the supply's line while it waits; the
    # boiler cable's grey core has its connectors already.
    assert ("9", "insulated connectors") in lines


def test_gas_and_unvented_work_are_named() -> None:
    # GSIUR 1998 regulation 3; Approved Document G 3.40: the competences a conversion must name.
    about = {c.work: c.parts for c in competences(JOB.job)}
    assert any("-E1" in part for part in about[next(w for w in about if "boiler" in w)])
    assert any("-F2" in part for part in about[next(w for w in about if "unvented" in w)])


def test_what_the_author_wants_tried_is_tried_though_it_shows_no_further_fault() -> None:
    tried = {trial.setting for trial in TRIALS.trials}
    assert not tried & {trial.setting for trial in TRIALS.further}
    assert "Hot water calls, cylinder satisfied" in {trial.name for trial in TRIALS.further}
    back_on = TESTS[TRIALS.further[0].name].settings
    assert ("-Q1 fused connection unit", "on") in {(s.part, s.word) for s in back_on}


@pytest.mark.parametrize("name", [
    "Cut-out tripped, only hot water calls", "Cut-out tripped while both call"])
def test_a_cut_out_test_reads_before_and_behind_the_cut_out(name: str) -> None:
    # With the thermostat open as well, the way behind it is dead whatever the cut-out does.
    read = {reading.terminal: reading.volts for reading in TESTS[name].reads}
    assert read["X1:7"] == "230 V"
    assert read["X1:8"] == "0 V"


def test_the_dial_is_set_before_the_first_test() -> None:
    first = next(iter(TESTS.values()))
    assert any(s.part.startswith("-B1") and "until it clicks" in s.how for s in first.settings)
