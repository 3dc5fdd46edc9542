"""A system, or a conversion between two, with every name looked up: what the author wrote."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.findings import Place
from generator.recipe.articles import Cable, Part, Position, Switch
from generator.recipe.conversions import Conversion
from generator.recipe.document import Document
from generator.recipe.placed import LaidCable, PlacedPart
from generator.recipe.schema import Model
from generator.recipe.systems import System


@dataclass(frozen=True)
class Source:
    """A recipe as read: its name, its document with places, and its shape."""

    name: str
    document: Document
    model: Model

    def place(self, *path: str | int) -> Place:
        """Return where the value at `path` stands."""
        return self.document.place(*path)

    def key_place(self, *path: str | int) -> Place:
        """Return where the last key of `path` stands."""
        return self.document.key_place(*path)


@dataclass(frozen=True)
class Mounted:
    """A part on the wall with what it is."""

    designation: str
    placed: PlacedPart
    part: Part
    place: Place
    source: Source

    @property
    def called(self) -> str:
        """What people call it here."""
        return self.placed.called or self.part.name


@dataclass(frozen=True)
class Laid:
    """A cable on the wall with what it is."""

    designation: str
    laid: LaidCable
    cable: Cable
    place: Place
    source: Source


@dataclass(frozen=True)
class Wall:
    """A system as written, every name in it known to exist."""

    source: Source
    system: System
    parts: dict[str, Mounted]
    cables: dict[str, Laid]

    @property
    def name(self) -> str:
        """The file name without ending, which is also the page's address."""
        return self.source.name


@dataclass(frozen=True)
class Job:
    """A conversion as written, from one wall to another."""

    source: Source
    conversion: Conversion
    found: Wall
    fitted: Wall
    of: str = ""
    """The conversion's own name, also where another option makes it a page of its own."""
    options: Mapping[str, str] = field(default_factory=dict)
    """The option of each choice that it is made with, by their names."""

    @property
    def name(self) -> str:
        """The file name without ending, which is also the page's address."""
        return self.source.name


def words_of(part: Part) -> dict[str, tuple[str, str]]:
    """Return the two words of every switch and position of a part."""
    changing: dict[str, Switch | Position] = {**part.switches, **part.positions}
    return {name: (each.rest, each.worked) for name, each in changing.items()}


def outcome_words(wall: Wall, designation: str) -> dict[str, tuple[str, str]]:
    """Return what can be expected of a part, first what is meant when none is named.

    A position has its two words; a heat source is off or on; a load is off or on.
    """
    part = wall.parts[designation].part
    words = {name: pair for name, pair in words_of(part).items() if name in part.positions}
    if part.heat:
        words[part.heat.word.replace(" ", "-")] = ("off", "on")
    return words | {name: ("off", "on") for name in part.loads if name not in words}
