"""Reads every system that may be met on site, without judging any."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, Unreadable
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.met import AllMet, Met, Start
from generator.recipe.signs_file import read_signs, seen_mistakes
from generator.recipe.standing import standing
from generator.recipe.systems import System


def all_met(library: Library) -> AllMet:
    """Return every found system, and every other that a conversion starts from.

    Raises Unreadable with the mistakes of the signs, or else of systems and conversions.
    """
    signs = read_signs(library)
    reading = _Meeting(library)
    starts = list(reading.starts())
    systems = tuple(reading.systems(starts))
    for each in systems:
        reading.mistakes += seen_mistakes(each.source, each.system, signs)
    if reading.mistakes:
        raise Unreadable(reading.mistakes)
    return AllMet(signs, systems)


class _Meeting:
    """Reads file by file and keeps what went wrong, so that one run says it all."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.mistakes: list[Finding] = []

    def starts(self) -> Iterator[tuple[str, Start]]:
        """Yield each conversion with the system that it starts from."""
        for path in self.library.files("conversions"):
            try:
                model = self.library.source(path).model
            except Unreadable as unreadable:
                self.mistakes += unreadable.findings
                continue
            if isinstance(model, Conversion):
                yield model.found, Start(path.stem, model.name)

    def systems(self, starts: list[tuple[str, Start]]) -> Iterator[Met]:
        """Yield the systems that are met, with the conversions that start there."""
        for path in self.library.files("systems"):
            begun = tuple(start for found, start in starts if found == path.stem)
            try:
                source = standing(self.library, self.library.source(path)).read()
            except Unreadable as unreadable:
                self.mistakes += unreadable.findings
                continue
            if isinstance(source.model, System) and (begun or source.model.stands == "found"):
                yield Met(source, source.model, begun)
