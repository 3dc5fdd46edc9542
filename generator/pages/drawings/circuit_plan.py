"""The plan of a circuit drawing: a place for every symbol, terminal, line and text, in points."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.drawings.plan import Area, Text

Stroke = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Symbol:
    """A contact, a load, or the body of a part; `hatched` areas hold what is not known."""

    key: str
    kind: str
    words: str
    area: Area
    strokes: tuple[Stroke, ...] = ()
    boxes: tuple[Area, ...] = ()
    texts: tuple[Text, ...] = ()


@dataclass(frozen=True)
class Ring:
    """A terminal: a small circle with its name beside it."""

    key: str
    words: str
    x: float
    y: float
    texts: tuple[Text, ...]
    lines: int = 1


@dataclass(frozen=True)
class Line:
    """A piece of what conductors join; a dot stands where it branches."""

    net: str
    corners: Stroke
    hops: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Dot:
    """A joint."""

    net: str
    x: float
    y: float


@dataclass(frozen=True)
class Arrow:
    """A named point: the net goes on where the same name stands."""

    net: str
    x: float
    y: float
    texts: tuple[Text, ...]


Shape = Symbol | Ring | Line | Dot | Arrow


@dataclass(frozen=True)
class CircuitPlan:
    """All that is drawn, and what each net is called in words."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
