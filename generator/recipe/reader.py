"""Looks every name of a system or a conversion up, and says all that is wrong in one run."""

from __future__ import annotations

from collections.abc import Iterable

from generator.findings import Finding, Unreadable, mistake, one_of
from generator.recipe.articles import Cable, Part
from generator.recipe.combining import SIDES, Combination, combinations
from generator.recipe.conversions import Conversion
from generator.recipe.edits import Edit
from generator.recipe.jobs import job_mistakes
from generator.recipe.landing import landing_mistakes
from generator.recipe.library import Library
from generator.recipe.mounting import mounting_mistakes
from generator.recipe.naming import wall_mistakes
from generator.recipe.parts import part_mistakes
from generator.recipe.shapes import shaped
from generator.recipe.signs_file import read_signs, seen_mistakes
from generator.recipe.standing import Standing, standing
from generator.recipe.systems import System
from generator.recipe.wall import Job, Laid, Mounted, Source, Wall


def read_wall(library: Library, source: Source) -> Wall:
    """Return a system or variant with parts and cables; raises Unreadable with every mistake."""
    return looked_up(library, standing(library, source).read())


def looked_up(library: Library, source: Source) -> Wall:
    """Return a system that stands, with parts and cables; raises Unreadable with every mistake."""
    system = source.model
    assert isinstance(system, System)
    reading = _Reading(library, source, system)
    parts = {name: part for name in system.parts if (part := reading.mounted(name))}
    cables = {name: cable for name in system.cables if (cable := reading.laid(name))}
    wall = Wall(source, system, parts, cables)
    for mistakes in (mounting_mistakes, wall_mistakes, landing_mistakes):
        reading.mistakes += mistakes(wall)
    reading.mistakes += reading.seen()
    if reading.mistakes:
        raise Unreadable(reading.mistakes)
    return wall


class _Reading:
    """Looks names up and keeps what went wrong, so that one run says it all."""

    def __init__(self, library: Library, source: Source, system: System) -> None:
        self.library = library
        self.source = source
        self.system = system
        self.mistakes: list[Finding] = []

    def seen(self) -> Iterable[Finding]:
        if not self.system.seen:
            return ()
        try:
            return seen_mistakes(self.source, self.system, read_signs(self.library))
        except Unreadable as unreadable:
            return unreadable.findings

    def mounted(self, designation: str) -> Mounted | None:
        placed = self.system.parts[designation]
        place = self.source.key_place("parts", designation)
        at = self.source.place("parts", designation, "is")
        try:
            source, part = self.library.named("part", placed.is_, Part, at)
        except Unreadable as unreadable:
            self.mistakes += unreadable.findings
            return None
        self.mistakes += part_mistakes(source, part)
        return Mounted(designation, placed, part, place, source)

    def laid(self, designation: str) -> Laid | None:
        laid = self.system.cables[designation]
        at = self.source.place("cables", designation, "is")
        try:
            source, cable = self.library.named("cable", laid.is_, Cable, at)
        except Unreadable as unreadable:
            self.mistakes += unreadable.findings
            return None
        for colour in laid.cores:
            if colour not in cable.cores:
                self.mistakes.append(mistake(
                    "core-not-in-cable", f"The cable `{designation}` has no core `{colour}`.",
                    self.source.key_place("cables", designation, "cores", colour),
                    at.noted("the cable is chosen here"),
                    found=f"`{colour}`", expected=one_of(cable.cores),
                    hint="use a core that is there, or another cable"))
        place = self.source.key_place("cables", designation)
        return Laid(designation, laid, cable, place, source)


def read_job(library: Library, source: Source, conversion: Conversion) -> Job:
    """Return a conversion with its usual options; raises Unreadable with every mistake."""
    return read_combination(library, combinations(source, conversion)[0])


def read_combination(
    library: Library, combination: Combination, without: Edit | None = None
) -> Job:
    """Return a conversion with one option of every choice, or what it is `without` one edit.

    Raises Unreadable with every mistake.
    """
    mistakes: list[Finding] = []
    walls = []
    for side in SIDES:
        try:
            walls.append(looked_up(library, side_of(library, combination, side).read(without)))
        except Unreadable as unreadable:
            mistakes += unreadable.findings
    job = None
    try:
        source = _worded(combination)
        assert isinstance(source.model, Conversion)
        if len(walls) == 2:
            job = Job(source, source.model, walls[0], walls[1],
                      combination.source.name, combination.options)
            mistakes += job_mistakes(job)
    except Unreadable as unreadable:
        mistakes += unreadable.findings
    if mistakes or job is None:
        raise Unreadable(mistakes)
    return job


def side_of(library: Library, combination: Combination, side: str) -> Standing:
    """Return how the `found` or the `fitted` system stands; raises Unreadable."""
    source = combination.source
    named = library.system_file(source.document.text(side), source.place(side))
    return standing(library, named).asked(combination.asked(side))


def _worded(combination: Combination) -> Source:
    document = combination.document()
    return Source(combination.name, document, shaped(document))
