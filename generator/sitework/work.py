"""A conversion as work: what becomes of everything, and in which order ends come off and go on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.checks.subject import JobSubject
from generator.circuit.elements import part_of
from generator.recipe.wall import Job, Mounted
from generator.sitework.changes import Changes, Fate, changes
from generator.sitework.openings import openings
from generator.sitework.order import Order, Places, Stage, order
from generator.sitework.stages import Live, Workplace, workplace


@dataclass(frozen=True)
class Work:
    """A conversion with its changes, the place they are made in, and their order."""

    job: JobSubject
    changes: Changes
    place: Workplace
    order: Order

    @property
    def lives(self) -> tuple[Live, ...]:
        """What each supply could make live, as found and after every step."""
        return (self.order.live, *(stage.after for stage in self.order.stages))

    @property
    def joins(self) -> tuple[Stage, ...]:
        """The steps that join the work to a supply again."""
        return tuple(stage for stage in self.order.on if stage.fresh)

    @cached_property
    def opened(self) -> frozenset[str]:
        """Every part whose cover comes off, to work in it, to read at it or for a test."""
        return openings(self.job, self.changes)

    def part(self, designation: str) -> Mounted:
        """Return a part of either system, as it is found if it is in both."""
        found, fitted = self.job.job.found.parts, self.job.job.fitted.parts
        return found.get(designation) or fitted[designation]

    def outermost(self, designation: str) -> str:
        """Return the part in whose enclosure a part sits in the end."""
        found = designation in self.job.job.found.parts
        return (self.job.found if found else self.job.fitted).outermost(designation)

    def box(self, point: str) -> str:
        """Return the part at which a terminal is, or at which a loose end was or will be."""
        ends = {end.name: end for run in self.place.runs for end in run.ends}
        end = ends.get(point)
        return part_of(end.before or end.after) if end else part_of(point)


def work(job: JobSubject) -> Work:
    """Return a conversion as work."""
    change = changes(job.job)
    place = workplace(job, change)
    at = places(job.job)
    return Work(job, change, place, order(place, at, tuple(_fixed(place, change, at))))


def _fixed(place: Workplace, change: Changes, at: Places) -> Iterator[str]:
    """Yield the places where a part is fixed, or a cable laid or brought into another box."""
    yield from (part.place for part in change.parts if part.fate is Fate.NEW)
    for run in place.runs:
        for end in run.ends:
            if run.cable and end.after and (
                    not end.before or part_of(end.before) != part_of(end.after)):
                yield at[part_of(end.after)]


def places(job: Job) -> Places:
    """Return where every part of both systems is, those found first."""
    parts = {**job.found.parts, **{name: part for name, part in job.fitted.parts.items()
                                   if name not in job.found.parts}}
    return {name: part.placed.at for name, part in parts.items()}
