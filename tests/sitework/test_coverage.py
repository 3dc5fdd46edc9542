"""How each fault of the flagship shows, against a plain walk over one state after the other."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from generator.circuit.elements import Conductor
from generator.circuit.faults import FaultKind
from generator.circuit.flat import Circuit
from generator.sitework.continuity import dead_states, joined_dead
from generator.sitework.coverage import Shows, classes, coverage
from generator.sitework.dead_tests import DeadKind
from generator.sitework.signs import Means, Sign
from tests.circuit.flagship import system
from tests.circuit.made_circuits import HERE
from tests.circuit.slow_walk import Seen, holds, islands, walk

FITTED = system("fitted")
COVERED = coverage(FITTED)
LIVE = {"live", "live through a load"}
ZERO = {"neutral", "neutral through a load", "earth"}
TRIED = ("Q1.switch", "K1.heating", "K1.hot-water", "B1.water", "F2.state")


def settings() -> list[int]:
    """Return settings of what is worked on site, all else in use: supplies on, fuses in."""
    index = FITTED.circuit.index
    base = sum(1 << index[name] for name in ("Q1.fuse", "Q2.switch"))
    return [base + sum(1 << index[name] for name, worked in zip(TRIED, each, strict=True) if worked)
            for each in product((0, 1), repeat=len(TRIED))]


def at_rest(circuit: Circuit, setting: int) -> tuple[int, Seen] | None:
    """Return where a setting comes to rest, devices moved one by one, and what is there then."""
    state = setting
    for _ in range(2 * len(circuit.devices) + 1):
        before = state
        for device in circuit.devices:
            seen = walk(circuit, state)
            worked = {v.name: bool(state >> i & 1) for i, v in enumerate(circuit.variables)}
            if holds(device.wish, worked | seen.runs) != bool(state >> device.variable & 1):
                state ^= 1 << device.variable
        if state == before:
            return state, walk(circuit, state)
    return None


def tried(circuit: Circuit, setting: int) -> tuple[int, Seen] | None:
    """Return the same where a cut-out is tripped by taking the core off its way out."""
    tripped = 1 << circuit.index["F2.state"]
    if setting & tripped:
        circuit = replace(circuit, conductors=tuple(
            c for c in circuit.conductors
            if c.kind not in ("core", "link") or "F2:out" not in (c.a, c.b)))
    return at_rest(circuit, setting & ~tripped)


def shows(circuit: Circuit, state: int, seen: Seen, sign: Sign) -> bool:
    if sign.means is Means.READ:
        assert sign.terminals is not None
        a, b = (seen.standing[t] for t in sign.terminals)
        if sign.word == "230 V":
            return (a in LIVE and b in ZERO) or (a in ZERO and b in LIVE)
        return (a == "between" and b != "floating") or (b == "between" and a != "floating")
    if sign.word == "trips":
        line = next(s.line for s in circuit.supplies if s.name == sign.what)
        return seen.standing[line] == "shorted"
    if sign.what in circuit.index:
        return bool(state >> circuit.index[sign.what] & 1)
    if sign.what in circuit.load:
        return seen.runs[sign.what]
    source = next(s for s in circuit.heat_sources if s.name == sign.what)
    return all(seen.runs[load] for load in source.loads)


def by_hand(circuit: Circuit) -> dict[Sign, list[bool]]:
    signs: dict[Sign, list[bool]] = {sign: [] for sign in COVERED.healthy}
    for setting in settings():
        rest = tried(circuit, setting)
        for sign, found in signs.items():
            found.append(rest is not None and shows(circuit, *rest, sign))
    return signs


def as_listed(signs: dict[Sign, int]) -> dict[Sign, list[bool]]:
    return {sign: [bool(table >> setting & 1) for setting in settings()]
            for sign, table in signs.items()}


def test_the_healthy_system_shows_what_a_walk_shows() -> None:
    signs = by_hand(FITTED.circuit)
    assert signs == as_listed(COVERED.healthy)
    assert len(signs) > 30
    assert sum(any(found) and not all(found) for found in signs.values()) > 15


def test_each_fault_shows_what_a_walk_shows_in_every_setting() -> None:
    assert len(COVERED.faults) > 150
    for covered in COVERED.faults:
        assert by_hand(covered.fault.circuit) == as_listed(covered.signs), covered.fault.words


def origin(circuit: Circuit) -> Circuit:
    """Return the circuit with the neutrals and earths of its supplies joined, as at the origin."""
    poles = [pole for s in circuit.supplies for pole in (s.neutral, s.earth)]
    joints = (Conductor("origin", poles[0], pole, "joint", HERE) for pole in poles[1:])
    return replace(circuit, conductors=(*circuit.conductors, *joints))


def wrong_by_hand(circuit: Circuit) -> tuple[int, ...]:
    """Return the dead tests that read wrong, by islands of one state at a time."""
    bare = replace(circuit, contacts=tuple(
        c for c in circuit.contacts if c.part not in COVERED.dead_tests.out))
    found = []
    for number, test in enumerate(COVERED.dead_tests.tests):
        of = islands(origin(bare if test.kind is DeadKind.APART else circuit), test.state)
        low = bool({of[t] for t in test.one} & {of[t] for t in test.other})
        if low is not test.joined:
            found.append(number)
    return tuple(found)


def test_a_healthy_system_passes_each_dead_test_and_each_fault_fails_those_it_should() -> None:
    assert wrong_by_hand(FITTED.circuit) == ()
    failed = [wrong_by_hand(covered.fault.circuit) for covered in COVERED.faults]
    assert failed == [covered.failing for covered in COVERED.faults]
    assert sum(map(bool, failed)) > 80


def test_ways_of_finding_are_those_in_which_anything_differs() -> None:
    for c in COVERED.faults:
        differing = {sign.means for sign, table in COVERED.healthy.items()
                     if c.signs[sign] != table}
        assert (Shows.FUNCTION in c.shows) == (Means.SEEN in differing)
        assert (Shows.READING in c.shows) == (Means.READ in differing)
        assert (Shows.DEAD in c.shows) == bool(c.failing)
        assert (c.surest is Shows.NEVER) == bool(c.why_never) == (not c.shows)
        assert not c.missed


def test_a_bridge_over_the_cut_out_shows_only_to_the_eye_and_a_broken_core_never_to_the_eye(
) -> None:
    # Miswiring M12, common practice: none in normal use; the second safety level is missing.
    of = {c.fault.words: c for c in COVERED.faults}
    assert of["`F2:in` and `F2:out` bridged"].shows == (Shows.LOOKING,)
    assert of["contact `F2.cut-out-contact` never opens"].why_never
    opened = [c for c in COVERED.faults if c.fault.kind is FaultKind.OPEN]
    assert len(opened) > 20
    assert not any(Shows.LOOKING in c.shows for c in opened)


def test_faults_of_one_class_show_alike_and_two_classes_never_do() -> None:
    groups = classes(COVERED)
    assert sum(map(len, groups)) == len(COVERED.faults)
    looks = [tuple(c.signs.items()) + c.dead for group in groups for c in group[:1]]
    assert len(set(looks)) == len(groups) > 100
    for group in groups:
        assert len({tuple(c.signs.items()) + c.dead for c in group}) == 1


def test_what_an_ohmmeter_finds_is_told_for_each_dead_state() -> None:
    states = dead_states(FITTED.circuit)
    found = joined_dead(FITTED.circuit, COVERED.site, states)
    for state, (direct, through) in zip(states, found, strict=True):
        of = islands(origin(FITTED.circuit), state)
        named = list(zip(COVERED.site.metered, direct, strict=True))
        assert all((of[a] == of[b]) == (x == y) for a, x in named for b, y in named)
        assert len(set(through)) <= len(set(direct))
