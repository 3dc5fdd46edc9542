"""Every part that is opened on a job: worked in, read at, taken off for a test, under one cover."""

from __future__ import annotations

from collections.abc import Collection

from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import part_of
from generator.sitework.changes import Changes
from generator.sitework.electronics import electronics
from generator.sitework.isolation import opened_parts
from generator.sitework.signs import site, ways


def openings(job: JobSubject, changes: Changes) -> frozenset[str]:
    """Return the parts whose cover comes off in any section of a page: all are proved dead.

    Those that are worked in; those that are read at; cut-outs that are tried, since a core comes
    off there; electronics that nothing else parts from the nets to be read; what shares a cover
    with any of these.
    """
    fitted = job.fitted
    met = _under_one_cover(job, opened_parts(changes) | tried_parts(fitted)
                           | {part_of(way) for way in ways(fitted)})
    shut = {off.part for off in electronics(fitted, met) if not off.cores}
    return _under_one_cover(job, met | shut)


def tried_parts(subject: Subject) -> frozenset[str]:
    """Return what lies bare where a core is taken off to stand for a tripped cut-out."""
    boxes = {subject.outermost(part_of(way_out)) for _, way_out in site(subject).cut_outs}
    return frozenset(part for part in subject.wall.parts if subject.outermost(part) in boxes)


def _under_one_cover(job: JobSubject, parts: Collection[str]) -> frozenset[str]:
    """Return parts and what else lies bare in their enclosures, before or after the work."""
    bare = set(parts)
    for side in (job.found, job.fitted):
        here = side.wall.parts.keys()
        boxes = {side.outermost(part) for part in parts if part in here}
        bare |= {part for part in here if side.outermost(part) in boxes}
    return frozenset(bare)
