"""Fates, order and isolation: of every conversion that ships, and of pairs made by Hypothesis."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings

from generator.checks.subject import JobSubject
from generator.circuit.elements import part_of
from generator.sitework.changes import Fate
from generator.sitework.dead_stages import (
    joinings,
    loose_live,
    work_dead_points,
    work_isolations,
)
from generator.sitework.order import Stage
from generator.sitework.work import Work, work
from tests.sitework.edited_walls import pairs
from tests.sitework.jobs import CONVERSIONS, combinations
from tests.sitework.stage_walk import Wall, is_loose, wires

EVERY = pytest.mark.parametrize("name", CONVERSIONS)
MADE = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def told_once(done: Work) -> None:
    """Every part, core and link has one fate, and no other has any."""
    job, changes = done.job.job, done.changes
    parts = Counter(part.designation for part in changes.parts)
    assert parts == dict.fromkeys({*job.found.parts, *job.fitted.parts}, 1)
    cores = {(name, colour) for wall in (job.found, job.fitted)
             for name, cable in wall.cables.items() for colour in cable.laid.cores}
    assert Counter((c.cable, c.colour) for c in changes.cores()) == dict.fromkeys(cores, 1)
    links = {*job.found.system.links, *job.fitted.system.links}
    assert Counter(link.cable for link in changes.links) == dict.fromkeys(links, 1)


def fates_are_true(done: Work) -> None:
    """A fate says what the ends of a core do, looked up in the two systems again."""
    before, after = wires(done.job.found), wires(done.job.fitted)
    named = [(f"{core.cable}.{core.colour}", core) for core in done.changes.cores()]
    for name, core in [*named, *((link.cable, link) for link in done.changes.links)]:
        old, new = set(before.get(name, ())), set(after.get(name, ()))
        assert (set(core.before or ()), set(core.after or ())) == (old, new)
        if not new:
            assert core.fate in (Fate.REMOVED, Fate.MADE_SAFE), core
        elif not old:
            assert core.fate is Fate.NEW, core
        elif old == new:
            assert core.fate is Fate.STAYS, core
        else:
            kept = set(map(part_of, old)) & set(map(part_of, new))
            assert core.fate is (Fate.MOVES if kept else Fate.REUSED), core


Seen = tuple[Stage, set[str], set[str]]
"""A stage with what is live in reach after it, and what of that was not known before."""


@cache
def shipped_walk(name: str) -> tuple[Seen, ...]:
    return tuple(walked(combinations(name)[0]))


def walked(done: Work) -> Iterator[Seen]:
    wall = Wall(done.job)
    reach, before = wall.reach(), wall.live()
    for stage in done.order.stages:
        came = wall.step(stage)
        now = wall.live()
        carried = {loose for loose, terminal in came.items() if terminal in before}
        fresh = {p for p in now - before - carried if is_loose(p) or p in reach}
        yield stage, {p for p in now if is_loose(p) or p in reach}, fresh
        before = now


def ends_where_it_should(done: Work) -> None:
    """Every end that changes is handled, and afterwards all is as in the fitted system."""
    wall = Wall(done.job)
    for stage in done.order.stages:
        wall.step(stage)
    landed = {name: set(ends) for name, ends in wall.on.items()
              if not any(map(is_loose, ends))}
    assert landed == {name: set(ends) for name, ends in wires(done.job.fitted).items()}
    assert not any(is_loose(a) != is_loose(b) for a, b in wall.on.values())


def nothing_is_live_unknown(done: Work, seen: Iterable[Seen]) -> None:
    """What a walk finds to be live and not known is what the order says of itself, every stage."""
    joined = False
    for stage, _, fresh in seen:
        own = {p for p in fresh if not is_loose(p)}
        assert own == {p for p in stage.fresh if p in done.place.circuit.terminal
                       and not _is_end(done, p)}
        if not stage.unknown:
            assert not fresh or (stage.handling.gate and stage.handling.on)
            assert not any(map(is_loose, fresh))
        joined |= bool(fresh)
        if joined and not done.order.unknown:
            assert stage.handling.gate, "work goes on after a supply was joined"


def _is_end(done: Work, point: str) -> bool:
    return any(end.name == point for run in done.place.runs for end in run.ends)


def all_is_proved_dead(done: Work, seen: Iterable[Seen]) -> None:
    """What could be live at any stage is on the list: to prove dead, to insulate, or announced."""
    proved = {row.terminal for point in work_dead_points(done) for row in point.rows}
    proved |= {against for point in work_dead_points(done) for row in point.rows
               for against in row.against}
    loose = {each.run.name for each in loose_live(done)}
    announced: set[str] = set()
    told = {each.run.name: set(each.parts) for each in joinings(done)}
    for stage, live, _ in seen:
        if stage.handling.on:
            announced |= told.get(stage.handling.run.name, set())
        for point in live:
            if is_loose(point):
                assert point.split()[1] in loose, point
            else:
                assert point in proved or part_of(point) in announced, point


def places_are_met_once(done: Work) -> None:
    """Within a phase nobody comes back to a place, but to part or join a supply."""
    for stages in (done.order.off, done.order.on):
        rest = [done.part(s.handling.part).placed.at for s in stages if not s.handling.gate]
        changes = sum(a != b for a, b in pairwise(rest))
        assert changes <= max(len(set(rest)) - 1, 0)


def earth_is_last_off_and_first_on(done: Work) -> None:
    for stages, first in ((done.order.on, True), (done.order.off, False)):
        at: dict[tuple[str, str], list[bool]] = {}
        for stage in stages:
            run = stage.handling.run
            if run.cable:
                at.setdefault((run.cable, stage.handling.part), []).append(run.colour == "GNYE")
        for order in at.values():
            assert order == sorted(order, reverse=first)


def supply_first_off_and_last_on(done: Work) -> None:
    gates = [stage.handling.gate for stage in done.order.off]
    assert gates == sorted(gates, reverse=True)
    gates = [stage.handling.gate for stage in done.order.on]
    assert gates == sorted(gates)


@EVERY
def test_every_part_core_and_link_has_exactly_one_fate(name: str) -> None:
    for done in combinations(name):
        told_once(done)
        fates_are_true(done)


@EVERY
def test_every_combination_has_a_safe_order_in_which_all_is_done(name: str) -> None:
    for done in combinations(name):
        assert not done.order.unknown
        ends_where_it_should(done)
        places_are_met_once(done)
        earth_is_last_off_and_first_on(done)
        supply_first_off_and_last_on(done)


@EVERY
def test_no_stage_has_anything_live_in_reach_that_was_not_known(name: str) -> None:
    nothing_is_live_unknown(combinations(name)[0], shipped_walk(name))


@EVERY
def test_all_that_could_be_live_at_any_stage_is_proved_dead(name: str) -> None:
    all_is_proved_dead(combinations(name)[0], shipped_walk(name))


@EVERY
def test_every_supply_that_makes_anything_live_is_isolated(name: str) -> None:
    for done in combinations(name):
        lines = {s.line: s.part for s in (*done.job.found.circuit.supplies,
                                          *done.job.fitted.circuit.supplies)}
        assert Counter(each.part for each in work_isolations(done)) == Counter(lines.values())


@MADE
@given(pairs())
def test_made_pairs_have_one_fate_for_everything(job: JobSubject) -> None:
    done = work(job)
    told_once(done)
    fates_are_true(done)
    ends_where_it_should(done)


@MADE
@given(pairs())
def test_made_pairs_have_no_stage_that_is_live_unknown_and_unsaid(job: JobSubject) -> None:
    done = work(job)
    nothing_is_live_unknown(done, walked(done))


@MADE
@given(pairs())
def test_made_pairs_have_all_proved_dead(job: JobSubject) -> None:
    done = work(job)
    if not done.order.unknown:
        all_is_proved_dead(done, walked(done))


def test_the_walk_catches_an_order_that_joins_the_supply_first() -> None:
    done = combinations("electronic-cylinder-to-wireless-two-zone")[0]
    wall = Wall(done.job)
    for stage in done.order.off:
        wall.step(stage)
    reach, before, caught = wall.reach(), wall.live(), []
    for stage in reversed(done.order.on):
        wall.step(stage)
        now = wall.live()
        caught += [p for p in now - before if is_loose(p) or p in reach]
        before = now
    assert any(map(is_loose, caught))


def test_the_made_pairs_hold_safe_and_unsafe_work_and_cores_that_are_lifted() -> None:
    met: Counter[str] = Counter()

    @settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck),
              derandomize=True, database=None)
    @given(pairs())
    def look(job: JobSubject) -> None:
        order = work(job).order
        met.update(unsafe=bool(order.unknown), lifted=bool(order.lifted),
                   joined=any(stage.fresh for stage in order.on))

    look()
    assert met["unsafe"] >= 3
    assert met["lifted"] >= 3
    assert 10 <= met["joined"] <= 60
