"""What a circuit drawing shows, before anything has a place: contacts, loads and supplies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum


class Look(StrEnum):
    """The symbol of an element, after the general idea of IEC 60617."""

    MAKE = "make contact"
    BREAK = "break contact"
    ISOLATOR = "isolator"
    FUSE = "fuse"
    LOAD = "load"


@dataclass(frozen=True)
class Element:
    """A contact, fuse or load between two nets; `a` is where the current comes in.

    `a_name` and `b_name` are its terminals as written beside them, empty where they stand
    elsewhere; `lines` say what works it; `worked_by` is the one switch it is a contact of.
    """

    key: str
    look: Look
    heading: str
    lines: tuple[str, ...]
    a: str
    b: str
    words: str
    a_name: str = ""
    b_name: str = ""
    letter: str = ""
    worked_by: str = ""

    @property
    def width(self) -> int:
        """Columns it takes."""
        return 1

    def turned(self) -> Element:
        """Return the element seen from its other end."""
        return replace(self, a=self.b, b=self.a, a_name=self.b_name, b_name=self.a_name)


class Feed(StrEnum):
    """What the columns of a source hang on."""

    SUPPLY = "supply"
    CLOSED = "closed part"
    VOLT_FREE = "volt-free input"
    PART = "terminals of a part"


@dataclass(frozen=True)
class Source:
    """Where columns begin (`upper` nets) and where they may end (`lower` nets).

    `back` is said where columns go back into what they hang on.
    """

    key: str
    feed: Feed
    title: str
    upper: tuple[str, ...]
    lower: tuple[str, ...]
    back: str = ""


@dataclass(frozen=True)
class Net:
    """Terminals that conductors join: what is written on the line, and how it is named apart.

    `edge` are the terminals that a part shows on its edge.
    """

    written: str
    name: str
    words: str
    edge: tuple[str, ...] = ()


@dataclass(frozen=True)
class CircuitSheet:
    """One drawing with its text alternative; `undrawn` is said in words below it."""

    title: str
    description: str
    sources: tuple[Source, ...]
    elements: tuple[Element, ...]
    nets: Mapping[str, Net]
    undrawn: tuple[str, ...] = ()
