"""What a test on site predicts is what the model says and what the author expects."""

from __future__ import annotations

from itertools import combinations

from generator.sitework.changes import changes
from generator.sitework.competence import competences
from generator.sitework.dead_checks import apart, inspections, joined, strip_nets
from generator.sitework.isolation import opened_parts
from generator.sitework.live_tests import live_tests, settled_state
from generator.sitework.materials import materials
from tests.circuit.flagship import flagship

JOB = flagship()
OPENED = opened_parts(changes(JOB.job))
TESTS = {test.name: test for test in live_tests(JOB)}


def readings(name: str) -> dict[str, str]:
    return {reading.terminal: reading.volts for reading in TESTS[name].readings}


def test_every_case_that_is_tried_is_a_test_and_no_other() -> None:
    tried = [case.name for case in JOB.job.conversion.expect if case.tried]
    assert list(TESTS) == tried
    assert len(tried) == len(JOB.job.conversion.expect) - 1


def test_what_is_seen_agrees_with_what_the_author_expects() -> None:
    for case in JOB.job.conversion.expect:
        if case.tried:
            seen = {what.split()[0][1:]: word for what, word in TESTS[case.name].seen}
            for what, word in case.then.items():
                assert seen[what.partition(".")[0]] == word, case.name


def test_the_safety_tests_are_there() -> None:
    # The order and the three that are always made: common practice, no source.
    safety = [test for test in TESTS.values() if test.safety]
    settings = [{(s.part.split()[0], s.word) for s in test.settings} for test in safety]
    assert any({("-F2", "tripped"), ("-K1", "call")} <= each for each in settings)
    assert any(("-Q1", "off") in each for each in settings)
    assert any(each == {("-K1", "off")} for each in settings)


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
    assert [s.part.split()[0] for s in settings] == ["-K1", "-K1", "-Q1"]


def test_nothing_is_read_live_but_at_the_strip() -> None:
    read = {r.terminal for test in TESTS.values() for r in test.readings}
    read |= {s.terminal for test in TESTS.values() for t in test.traced for s in t.stages}
    assert len(read) > 6
    assert {terminal.partition(":")[0] for terminal in read} == {"X1"}


def test_a_way_to_follow_is_live_all_along_and_names_what_lies_between() -> None:
    traced = TESTS["Hot water calls, cylinder cold"].traced
    motor = next(each for each in traced if "motor" in each.what)
    assert [stage.terminal for stage in motor.stages] == ["X1:1", "X1:7", "X1:8"]
    assert [stage.then for stage in motor.stages] == [
        ("-K1 wireless receiver",), ("-B1 cylinder thermostat", "-F2 overheat cut-out"),
        ("-M2 hot-water valve",)]
    state = settled_state(JOB.fitted, {"K1.hot-water": "call"})
    assert all(JOB.fitted.potentials.standing(stage.terminal, state) == "live"
               for stage in motor.stages)


def test_the_cut_out_test_says_how_it_is_brought_about_and_taken_back() -> None:
    tripped = TESTS["Cut-out tripped while both call"].settings
    assert any(s.word == "tripped" and "prove dead" in s.how for s in tripped)
    back = TESTS["Cut-out put back, hot water calls again"].settings
    assert any(s.word == "healthy" and "core back on out" in s.how for s in back)
    names = list(TESTS)
    assert names.index("Cut-out put back, hot water calls again") == 1 + names.index(
        "Cut-out tripped, only hot water calls")


def test_continuity_covers_every_net_a_person_can_reach_once() -> None:
    nets = joined(JOB.fitted, OPENED)
    terminals = [terminal for net in nets for terminal in net.terminals]
    assert len(terminals) == len(set(terminals))
    numbers = [{JOB.fitted.potentials.nets.of[t] for t in net.terminals} for net in nets]
    assert all(len(each) == 1 for each in numbers)
    line = next(net for net in nets if "X1:1" in net.terminals)
    assert {"X1:1", "X1:2", "K1:L", "E1:L"} == set(line.terminals)


def test_no_part_is_opened_for_a_dead_check_that_the_job_does_not_open() -> None:
    parts = {t.partition(":")[0] for net in joined(JOB.fitted, OPENED) for t in net.terminals}
    assert "Q1" not in parts
    assert "M1" not in parts


def test_every_pair_of_ways_is_apart_but_those_a_thermostat_joins() -> None:
    net = JOB.fitted.potentials.nets.of
    pairs = {frozenset((net[pair.a], net[pair.b])): pair for pair in apart(JOB.fitted)}
    ways = {net[t.terminals[0]] for t in strip_nets(JOB.fitted)}
    both = frozenset((net["X1:7"], net["X1:8"]))
    assert pairs.keys() == {frozenset(p) for p in combinations(sorted(ways), 2)} - {both}
    assert pairs[frozenset((net["X1:11"], net["X1:1"]))].shows == "open"
    # 230 V x 230 V / 6 W = 8.8 kilohms: the valve's motor between its brown and blue.
    motor = pairs[frozenset((net["X1:3"], net["X1:5"]))]
    assert motor.shows.startswith("motor between them: some 9 kΩ")


def test_what_no_test_shows_is_looked_at() -> None:
    looked = {each.part: each.looks for each in inspections(JOB.fitted, OPENED)}
    assert any("no bridge" in look for look in looked["-F2 overheat cut-out"])


def test_the_list_of_materials_is_what_is_not_on_the_wall() -> None:
    lines = {(m.amount, m.what) for m in materials(JOB.job, changes(JOB.job))}
    assert ("1.1 m", "flex, 5 x 0.75 mm²") in lines
    assert ("2", "sleeves BN") in lines
    assert ("1", "wireless receiver") in lines
    assert not any("valve" in what for _, what in lines)
    # Both ends of the boiler cable's grey core and of two data leads with two cores each.
    assert ("10", "insulated connectors") in lines


def test_gas_and_unvented_work_are_named() -> None:
    # GSIUR 1998 regulation 3; Approved Document G 3.40: the competences a conversion must name.
    about = {c.work: c.parts for c in competences(JOB.job)}
    assert any("-E1" in part for part in about[next(w for w in about if "boiler" in w)])
    assert any("-F2" in part for part in about[next(w for w in about if "unvented" in w)])
