"""The trials of every shipped system: they show what is left to show, always in are the safety
trials, nothing is read where nobody may read, and no order moves less."""

from __future__ import annotations

from itertools import pairwise, permutations

import pytest

from generator.checks.subject import Subject
from generator.sitework.coverage import Covered, Shows
from generator.sitework.signs import Means
from generator.sitework.trials import Trial, trials
from tests.circuit.flagship import flagship
from tests.sitework.shipped import SYSTEMS, covered, shipped, tried

systems = pytest.mark.parametrize("name", SYSTEMS)


def found(name: str, trial: Trial, fault: Covered) -> bool:
    """Return whether a trial with its own readings, and no other, shows a fault."""
    return any((table ^ fault.signs[sign]) >> trial.setting & 1
               for sign, table in covered(name).healthy.items()
               if sign.means is Means.SEEN or sign.terminals in trial.reads)


@systems
def test_every_fault_that_shows_live_and_not_dead_is_shown_by_a_trial_with_its_reads(name: str
                                                                                     ) -> None:
    told: list[str] = []
    for trial in tried(name).trials:
        told += trial.shows
    left = [c for c in covered(name).faults if Shows.DEAD not in c.shows
            and {Shows.FUNCTION, Shows.READING} & set(c.shows)]
    assert left
    assert tried(name).missed == ()
    for fault in left:
        assert any(found(name, trial, fault) for trial in tried(name).trials), fault.fault.words
    assert sorted(told) == sorted(c.fault.words for c in left)


@systems
def test_each_fault_is_told_at_the_first_trial_that_shows_it(name: str) -> None:
    of = {c.fault.words: c for c in covered(name).faults}
    for i, trial in enumerate(tried(name).trials):
        for fault in (of[words] for words in trial.shows):
            assert found(name, trial, fault)
            assert not any(found(name, earlier, fault) for earlier in tried(name).trials[:i])


@systems
def test_no_fewer_trials_or_readings_would_do(name: str) -> None:
    made = tried(name)
    assert len(made.trials) == made.at_least
    assert sum(len(trial.reads) for trial in made.trials) == made.reads_at_least
    for trial in made.trials:
        assert trial.safety or trial.shows
    # Each reading is needed: without it some fault would be shown by no trial.
    for trial in made.trials:
        for pair in trial.reads:
            rest = [t if t is not trial else without(t, pair) for t in made.trials]
            assert any(not any(found(name, t, c) for t in rest) for c in covered(name).faults
                       if found(name, trial, c))


def without(trial: Trial, pair: tuple[str, str]) -> Trial:
    return Trial(trial.name, trial.setting, trial.safety,
                 tuple(p for p in trial.reads if p != pair), trial.shows)


def kinds(subject: Subject, *wanted: str) -> int:
    return sum(1 << v for v, each in enumerate(subject.circuit.variables) if each.kind in wanted)


@systems
def test_nothing_calling_comes_first_and_isolated_while_everything_calls_last(name: str) -> None:
    # Facts 13d steps 4 and 13, common practice, no source.
    subject, made = shipped(name), tried(name).trials
    assert made[0].setting == kinds(subject, "isolator", "fuse")
    calls = sum(1 << v for v in {v for z in subject.circuit.zones for v, value in z.call if value})
    last = made[-1].setting
    assert last & calls == calls
    assert last & kinds(subject, "isolator") != kinds(subject, "isolator")
    dead = subject.motion.settle(last)
    assert not any(subject.potentials.fires(s) >> dead & 1 for s in subject.circuit.heat_sources)
    assert made[0].safety
    assert made[-1].safety


@systems
def test_each_cut_out_is_tripped_while_everything_calls_and_its_zone_tried_again(name: str) -> None:
    # Facts 13d step 9, common practice, no source: with heating also calling.
    subject, made = shipped(name), [trial.setting for trial in tried(name).trials]
    in_use = kinds(subject, "isolator", "fuse")
    calling = sum(1 << v for v in {v for z in subject.circuit.zones for v, on in z.call if on})
    for v, _ in covered(name).site.cut_outs:
        tripped = in_use | calling | 1 << v
        assert tripped in made
        for zone in subject.circuit.zones:
            if v in dict(zone.cut_out):
                own = in_use | sum(1 << w for w, on in zone.call if on)
                last = max(i for i, setting in enumerate(made) if setting >> v & 1)
                assert made.index(own) > last


def test_the_flagship_has_a_cut_out_to_try() -> None:
    name = "two-zone-wireless-receiver-cylinder-cut-out"
    assert len(covered(name).site.cut_outs) == 1


def proved_dead(subject: Subject, setting: int, terminal: str, earth: str) -> bool:
    """Return whether a supply is isolated and the healthy terminal reads 0 V to an earth."""
    state = subject.motion.settle(setting)
    isolated = [supply for supply in subject.circuit.supplies
                if subject.potentials.condition(supply.isolated) >> state & 1]
    return (bool(isolated) and subject.circuit.terminal[earth].carries == "earth"
            and not subject.potentials.live(terminal) >> state & 1)


@systems
def test_nothing_is_read_in_a_closed_part_or_under_a_boilers_casing(name: str) -> None:
    subject = shipped(name)
    read = [(trial, pair) for trial in tried(name).trials for pair in trial.reads]
    for trial, pair in read:
        for terminal in pair:
            mounted = subject.wall.parts[subject.circuit.terminal[terminal].part].part
            assert not mounted.closed
            assert mounted.competence == "electrical" or (
                mounted.competence == "unvented" and proved_dead(subject, trial.setting, *pair))
            assert not subject.circuit.terminal[terminal].fixed
            assert not any(s.line == terminal for s in subject.circuit.supplies)


def cost(subject: Subject, order: tuple[int, ...]) -> int:
    """Return what an order moves: an isolator counts 20, a cut-out 10, any other control 1."""
    counts = {"isolator": 20, "cut-out": 10}
    return sum(counts.get(each.kind, 1) for a, b in pairwise(order)
               for v, each in enumerate(subject.circuit.variables) if (a ^ b) >> v & 1)


def permitted(subject: Subject, order: tuple[int, ...]) -> bool:
    """Return whether each zone with a cut-out is tried again after all its cut-outs were."""
    in_use, tripped = kinds(subject, "isolator", "fuse"), kinds(subject, "cut-out")
    again = {in_use | sum(1 << v for v, on in z.call if on) for z in subject.circuit.zones
             if z.cut_out}
    last = max((i for i, s in enumerate(order) if s & tripped), default=-1)
    return all(i > last for i, s in enumerate(order) if s in again)


def cheapest(subject: Subject, order: tuple[int, ...]) -> int:
    middle = order[1:-1]
    assert len(middle) <= 7
    ways = ((order[0], *way, order[-1]) for way in permutations(middle))
    return min(cost(subject, way) for way in ways if permitted(subject, way))


@systems
def test_no_order_moves_less(name: str) -> None:
    order = tuple(trial.setting for trial in tried(name).trials)
    assert permitted(shipped(name), order)
    assert cost(shipped(name), order) == cheapest(shipped(name), order)


def test_the_cases_that_an_author_marks_as_safety_are_tried_by_his_names() -> None:
    job = flagship()
    made = trials(job.fitted, covered(
        "two-zone-wireless-receiver-cylinder-cut-out"), job.job.conversion.expect)
    safety = [case.name for case in job.job.conversion.expect if case.safety and case.tried]
    names = [trial.name for trial in made.trials if trial.safety]
    assert len(safety) == 5
    assert set(safety) <= set(names)
    order = tuple(trial.setting for trial in made.trials)
    assert cost(job.fitted, order) == cheapest(job.fitted, order)
