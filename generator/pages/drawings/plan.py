"""The plan of a wiring drawing: a place for every part, terminal, text and wire.

All in points, which are the pixels of a phone 360 px wide; x to the right, y downwards.
"""

from dataclasses import dataclass

from generator.pages.drawings.sheet import Box, Pin, Wire


@dataclass(frozen=True)
class Area:
    """A rectangle from its upper left corner."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class Text:
    """One line: y is its middle, x its left end, its middle or its right end as anchor says."""

    x: float
    y: float
    words: str
    anchor: str  # "l", "c" or "r"
    size: float
    strong: bool = False


@dataclass(frozen=True)
class Part:
    """A part with its title."""

    box: Box
    area: Area
    texts: tuple[Text, ...]


@dataclass(frozen=True)
class Terminal:
    """A terminal of a part, or a cell of the spine."""

    box: Box
    pin: Pin
    area: Area
    texts: tuple[Text, ...]
    cell: bool


@dataclass(frozen=True)
class Course:
    """A wire from corner to corner, where it hops over others, and its colour at both ends."""

    wire: Wire
    corners: tuple[tuple[float, float], ...]
    hops: tuple[tuple[float, float], ...]
    texts: tuple[Text, ...]


@dataclass(frozen=True)
class Plan:
    """All that is drawn."""

    width: float
    height: float
    parts: tuple[Part, ...]
    terminals: tuple[Terminal, ...]
    courses: tuple[Course, ...]
