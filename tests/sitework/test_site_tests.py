"""What a test on site predicts is what the model says and what the author expects."""

from __future__ import annotations

from generator.sitework.changes import changes
from generator.sitework.competence import competences
from generator.sitework.dead_checks import apart, joined
from generator.sitework.live_tests import live_tests, settled_state
from generator.sitework.materials import materials
from tests.circuit.flagship import flagship

JOB = flagship()
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


def test_isolated_nothing_is_driven() -> None:
    assert set(readings("Isolated while both call").values()) <= {"0 V", "0 V, nothing drives it"}


def test_a_way_to_follow_starts_at_the_supply_and_is_live_all_along() -> None:
    traced = TESTS["Hot water calls, cylinder cold"].traced
    motor = next(each for each in traced if "motor" in each.what)
    assert motor.terminals[0] == "Q1:supply-L"
    assert motor.terminals[-1] == "M2:motor"
    state = settled_state(JOB.fitted, {"K1.hot-water": "call"})
    assert all(JOB.fitted.potentials.standing(t, state) == "live" for t in motor.terminals)


def test_continuity_covers_every_net_a_person_can_reach_once() -> None:
    nets = joined(JOB.fitted)
    terminals = [terminal for net in nets for terminal in net.terminals]
    assert len(terminals) == len(set(terminals))
    numbers = [{JOB.fitted.potentials.nets.of[t] for t in net.terminals} for net in nets]
    assert all(len(each) == 1 for each in numbers)
    assert {"X1:1", "X1:2", "Q1:load-L", "K1:L", "E1:L"} <= set(nets[0].terminals + nets[1].terminals)


def test_line_neutral_and_earth_are_checked_to_be_apart() -> None:
    net = JOB.fitted.potentials.nets.of
    pairs = {frozenset((net[pair.a], net[pair.b])) for pair in apart(JOB.fitted)}
    line, neutral, earth = net["X1:1"], net["X1:3"], net["X1:11"]
    assert {frozenset((line, neutral)), frozenset((line, earth)),
            frozenset((neutral, earth))} <= pairs


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
