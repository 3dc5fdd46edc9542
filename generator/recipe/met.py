"""Every system that may be met on site: what is seen of it, and which conversions start there."""

from __future__ import annotations

from dataclasses import dataclass

from generator.recipe.signs import NO_SIGNS, Signs
from generator.recipe.systems import System
from generator.recipe.wall import Source


@dataclass(frozen=True)
class Start:
    """A conversion, by its file name and its title."""

    name: str
    title: str


@dataclass(frozen=True)
class Met:
    """A system that is met, with the conversions that start there."""

    source: Source
    system: System
    starts: tuple[Start, ...]

    @property
    def name(self) -> str:
        """The file name without ending, which is also the page's address."""
        return self.source.name

    def answers(self, question: str) -> tuple[str, ...]:
        """Return the answers there may be to a question; none where the system leaves it open."""
        return self.system.seen.get(question, ())


@dataclass(frozen=True)
class AllMet:
    """The questions that can be asked, and every system that is met, in order of their names."""

    signs: Signs
    systems: tuple[Met, ...]

    @property
    def told(self) -> tuple[Met, ...]:
        """The systems of which something is seen."""
        return tuple(each for each in self.systems if each.system.seen)

    @property
    def untold(self) -> tuple[Met, ...]:
        """The systems of which nobody says how they look."""
        return tuple(each for each in self.systems if not each.system.seen)


NOBODY = AllMet(NO_SIGNS, ())
"""Where no system is met."""
