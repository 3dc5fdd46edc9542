"""Making dead for the whole of the work: as found, and at every stage until it is joined again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.circuit.elements import part_of
from generator.findings import listed
from generator.sitework.competence import opener
from generator.sitework.ends import End, Run
from generator.sitework.isolation import DeadPoint, Isolation, dead_points, isolations
from generator.sitework.openings import tried_parts
from generator.sitework.order import Stage
from generator.sitework.stages import Live, everything
from generator.sitework.work import Work


@dataclass(frozen=True)
class LooseLive:
    """An end that hangs loose for a while and would be live if one of these supplies came back."""

    run: Run
    end: End
    supplies: tuple[str, ...]


@dataclass(frozen=True)
class Joining:
    """The landing that joins the work to its supply, and the parts that could be live from it."""

    run: Run
    terminals: tuple[str, ...]
    supplies: tuple[str, ...]
    parts: tuple[str, ...]


@dataclass(frozen=True)
class WorkNotice:
    """A notice for the time of the work, on a box that holds more than one circuit."""

    part: str
    text: str


def work_isolations(work: Work) -> tuple[Isolation, ...]:
    """Return what isolates every supply of the found system, and those that come with the new."""
    found = isolations(work.job.found, work.opened)
    there = {supply.line for supply in work.job.found.circuit.supplies}
    comes = {supply.name for supply in work.job.fitted.circuit.supplies
             if supply.line not in there}
    later = isolations(work.job.fitted, work.opened)
    return (*found, *(replace(each, comes=True) for each in later if each.supply in comes))


def work_dead_points(work: Work) -> tuple[DeadPoint, ...]:
    """Return where to prove dead before the work is joined again, and between which terminals.

    A box that is opened only to be read at is proved dead as well: its cover comes off under lock.
    So is a new one that is opened again for a test.
    """
    known = [everything(work.order.live), *(
        everything(stage.after) - joined for stage, joined in _with_joined(work))]
    new = {part_of(point) for point in frozenset().union(*known) & work.place.reach
           if part_of(point) not in work.job.job.found.parts}
    again = tried_parts(work.job.fitted) - work.job.job.found.parts.keys()
    points = (*dead_points(work.job.found, work.opened),
              *dead_points(work.job.fitted, (new | again) & work.job.job.fitted.parts.keys()))
    return tuple(replace(point, competence=opener(work.part(point.part), work.job.job.fitted),
                         later=point.part in again - new) for point in points)


def _with_joined(work: Work) -> Iterator[tuple[Stage, frozenset[str]]]:
    """Yield each stage with what the joinings up to it have made live."""
    joined: frozenset[str] = frozenset()
    for stage in work.order.stages:
        joined |= stage.fresh
        yield stage, joined


def loose_live(work: Work) -> tuple[LooseLive, ...]:
    """Return the ends that could be live while they hang loose, in the order they come off."""
    found: dict[str, list[str]] = {}
    for live in work.lives:
        for supply, points in live.items():
            for point in points:
                found.setdefault(point, []).append(supply)
    return tuple(LooseLive(run, end, tuple(dict.fromkeys(found[end.name])))
                 for run in work.place.runs for end in run.ends if end.name in found)


def joinings(work: Work) -> tuple[Joining, ...]:
    """Return the landings from which the new wiring could be live."""
    return tuple(_joining(work, stage) for stage in work.joins)


def _joining(work: Work, stage: Stage) -> Joining:
    supplies = (name for name, live in stage.after.items() if live & stage.fresh)
    parts = dict.fromkeys(t.part for t in work.place.circuit.terminals if t.name in stage.fresh)
    return Joining(stage.handling.run, stage.handling.terminals, tuple(supplies), tuple(parts))


def work_notices(work: Work) -> tuple[WorkNotice, ...]:
    """Return a notice for every opened box with two circuits at any stage, as found included."""
    fed: dict[str, dict[str, None]] = {}
    opened = {work.outermost(part) for part in work.opened}
    for live in work.lives:
        for box, supplies in _boxes(work, live).items():
            if len(supplies) > 1 and box in opened:
                fed.setdefault(box, {}).update(dict.fromkeys(supplies))
    return tuple(WorkNotice(box, _notice(work, tuple(supplies))) for box, supplies in fed.items())


def _boxes(work: Work, live: Live) -> dict[str, list[str]]:
    """Return by enclosure the supplies that could make something in it live."""
    fed: dict[str, list[str]] = {}
    for supply, points in live.items():
        for box in sorted({work.outermost(work.box(point)) for point in points}):
            fed.setdefault(box, []).append(supply)
    return fed


def _notice(work: Work, supplies: tuple[str, ...]) -> str:
    named = {supply.name: supply for supply in work.place.circuit.supplies}
    each = (f"{named[name].says} at -{named[name].part}" for name in supplies)
    number = {2: "Two", 3: "Three", 4: "Four"}.get(len(supplies), str(len(supplies)))
    return (f"{number} circuits in this box: {listed(each, 'and').replace('`', '')}. "
            "Isolate all of them, lock them off and prove each dead.")
