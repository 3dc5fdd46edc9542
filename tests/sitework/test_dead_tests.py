"""Dead tests: every net and every pair of nets, and never fewer than the counting bound."""

from __future__ import annotations

from itertools import combinations, product

import pytest

from generator.circuit.elements import part_of
from generator.sitework.changes import changes
from generator.sitework.continuity import dead_states
from generator.sitework.coverage import coverage
from generator.sitework.dead_lines import dead_sheet
from generator.sitework.dead_tests import LOW, DeadKind, DeadTest, DeadTests, dead_tests
from generator.sitework.isolation import opened_parts
from generator.sitework.signs import site
from tests.circuit.flagship import flagship
from tests.circuit.slow_walk import islands
from tests.sitework.shipped import SYSTEMS, covered, shipped

systems = pytest.mark.parametrize("name", SYSTEMS)


def of_kind(tests: DeadTests, kind: DeadKind) -> list[DeadTest]:
    return [test for test in tests.tests if test.kind is kind]


@systems
def test_every_net_in_reach_hangs_together_by_the_readings_made_on_it(name: str) -> None:
    subject, tests = shipped(name), covered(name).dead_tests
    nets: dict[int, list[str]] = {}
    for terminal in covered(name).site.metered:
        if any(subject.landed(t) for t, net in subject.potentials.nets.of.items()
               if net == subject.potentials.nets.of[terminal]):
            nets.setdefault(subject.potentials.nets.of[terminal], []).append(terminal)
    pairs = [(*test.one, *test.other) for test in of_kind(tests, DeadKind.JOINED)]
    for net in nets.values():
        seen = {net[0]}
        for _ in net:
            seen |= {t for pair in pairs if seen & set(pair) for t in pair}
        # What was only read along with a net that nothing lands on within reach is left out.
        assert set(net) <= seen or not any(subject.landed(t) for t in net)


@systems
def test_any_two_nets_that_no_dead_setting_joins_are_read_against_each_other(name: str) -> None:
    subject, tests = shipped(name), covered(name).dead_tests
    apart = of_kind(tests, DeadKind.APART)
    assert len(apart) == (tests.nets - 1).bit_length()
    read = {t for test in apart for t in (*test.one, *test.other)}
    assert len({subject.potentials.nets.of[t] for t in read}) >= tests.nets
    joined = [islands(subject.circuit, state) for state in dead_states(subject.circuit)]
    for a, b in combinations(sorted(read), 2):
        against = any((a in t.one and b in t.other) or (b in t.one and a in t.other) for t in apart)
        assert against or _ever_one(name, a, b, joined) or _through(tests, a, b)


def _through(tests: DeadTests, a: str, b: str) -> bool:
    return any({*test.one, *test.other} == {a, b} for test in of_kind(tests, DeadKind.THROUGH))


def _ever_one(name: str, a: str, b: str, joined: list[dict[str, str]]) -> bool:
    """Return whether a chain of dead settings, neutral met with earth at the origin, joins two."""
    poles = {p for s in shipped(name).circuit.supplies for p in (s.neutral, s.earth)}
    reached = {a}
    for _ in range(8):
        reached |= {t for of in joined for t, island in of.items()
                    if island in {of[r] for r in reached}}
        reached |= poles if reached & poles else set()
    return b in reached


@systems
def test_the_two_ends_of_an_element_or_winding_are_never_set_apart(name: str) -> None:
    # 3 kW at 230 V is 17.6 ohm, a good heater and no fault: Ohm's law. The contacts of a head are
    # closed at rest: thermostat cold, cut-out healthy.
    subject, tests = shipped(name), covered(name).dead_tests
    states = [islands(subject.circuit, state) for state in dead_states(subject.circuit)]
    for load in subject.circuit.loads:
        most = load.up_to or load.watts
        if load.kind not in ("element", "pump", "motor") or most <= 100:
            continue
        for of, test in product(states, of_kind(tests, DeadKind.APART)):
            sides = [{of[t] for t in group} for group in (test.one, test.other)]
            assert not any(of[load.a] in one and of[load.b] in other
                           for one, other in (sides, sides[::-1])), (load.name, test)


@systems
def test_what_is_never_joined_is_not_listed_as_joined(name: str) -> None:
    assert all(test.joined for test in of_kind(covered(name).dead_tests, DeadKind.JOINED))


def test_the_heater_is_read_through_and_so_is_a_pump() -> None:
    read = {test.one + test.other: test.does for test in of_kind(
        covered("two-zone-wireless-receiver-immersion-heater").dead_tests, DeadKind.THROUGH)}
    heater = next(does for ends, does in read.items() if ends == ("Q2:load-L", "Q2:load-N"))
    assert heater.startswith("heating element of -E2, about 18 Ω")
    assert "near 0 is a bridge" in heater
    oil = of_kind(covered("oil-burner-wireless").dead_tests, DeadKind.THROUGH)
    # 150 W of burner and up to 65 W of pump: at most 230² / 215 ohm by their power.
    assert any("less than 246 Ω if together they take 215 W" in test.does for test in oil)


@systems
def test_no_load_left_between_two_groups_reads_as_a_joint(name: str) -> None:
    subject, tests = shipped(name), covered(name).dead_tests
    net = subject.potentials.nets.of
    for test in of_kind(tests, DeadKind.APART):
        one, other = ({net[t] for t in group} for group in (test.one, test.other))
        watts = sum(load.up_to or load.watts for load in subject.circuit.loads
                    if load.passes and load.part not in tests.out
                    and any(a in one and b in other for a, b in
                            [(net[load.a], net[load.b]), (net[load.b], net[load.a])]))
        assert watts * LOW < 230**2


@systems
def test_there_are_never_fewer_tests_than_the_bound(name: str) -> None:
    tests = covered(name).dead_tests
    assert len(tests.tests) >= tests.at_least > 0


@pytest.mark.parametrize("count", range(2, 7))
def test_to_keep_nets_apart_takes_the_logarithm_of_their_number_and_no_fewer(count: int) -> None:
    # Kautz 1974, Testing for faults in wiring networks, IEEE Transactions on Computers C-23, from
    # memory; here by trying every set of two-group readings.
    groups = [side for side in product((0, 1), repeat=count) if len(set(side)) == 2]
    pairs = list(combinations(range(count), 2))
    fewest = next(size for size in range(1, count)
                  if any(all(any(side[a] != side[b] for side in chosen) for a, b in pairs)
                         for chosen in combinations(groups, size)))
    assert DeadTests((), (), (), count, 1).at_least == fewest


def test_a_net_of_five_terminals_beside_two_others_takes_four_readings_and_two() -> None:
    assert DeadTests((), (), (), nets=3, largest=5).at_least == 4 + 2


JOB = flagship()
OPENED = opened_parts(changes(JOB.job))
TESTS = dead_tests(JOB.fitted, site(JOB.fitted, OPENED))


def test_no_part_is_opened_for_a_dead_test_that_the_job_does_not_open() -> None:
    read = {t for test in TESTS.tests for t in (*test.one, *test.other)}
    shut = {t for t in read if part_of(t) not in OPENED}
    assert {"M1:E", "M2:E"} <= shut
    assert {JOB.fitted.circuit.terminal[t].carries for t in shut} == {"earth"}


def test_the_thermostat_is_turned_both_ways_and_the_rest_read_with_it_open() -> None:
    switched = {(t.one, t.other, t.settings, t.joined) for t in of_kind(TESTS, DeadKind.SWITCHED)}
    pair = ("X1:7",), ("X1:8",)
    assert switched == {(*pair, (("B1.water", "cold"),), True),
                        (*pair, (("B1.water", "satisfied"),), False)}
    assert TESTS.settings == (("B1.water", "satisfied"),)


def test_what_is_electronic_comes_off_before_nets_are_read_against_each_other() -> None:
    # Facts 13d step 2, common practice: electronics out.
    assert TESTS.out == ("K1", "E1")


def test_the_page_has_each_reading_once_and_each_fault_at_the_first_that_shows_it() -> None:
    covered_here = coverage(JOB.fitted, OPENED)
    sheet = dead_sheet(covered_here)
    lines = (*sheet.joined, *sheet.switched, *sheet.apart, *sheet.through)
    readings = [(line.one, t) for line in (*sheet.joined, *sheet.switched) for t in line.other]
    assert len(readings) + len(sheet.apart) == sheet.readings == len(TESTS.tests)
    told = [words for line in lines for words in line.shows]
    dead = [c.fault.words for c in covered_here.faults if c.failing]
    assert sorted(told) == sorted(dead)
    assert len(dead) > 80
    assert "`F2:in` and `F2:out` bridged" in sheet.looks
    assert not set(sheet.looks) & set(dead)
