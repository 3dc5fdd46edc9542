"""Terminals of a part that no contact meets, on both edges of a frame."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.drawings.circuit_grid import EDGE, LINE, WIDTH
from generator.pages.drawings.circuit_heads import HATCH, hatch
from generator.pages.drawings.circuit_plan import Line, Ring, Shape, Stroke, Symbol
from generator.pages.drawings.lettering import BODY, width, wrap
from generator.pages.drawings.plan import Area, Text

_SIDE = 126.0
"""Most room for the name of a terminal at either edge."""
_INSET = 9.0
_RIM = 4.0
_LEVEL = 8.0  # a line below a name


@dataclass(frozen=True)
class Frame:
    """Terminals, and what is said between them."""

    key: str
    names: tuple[str, ...]
    words: str
    hatched: bool = False

    @property
    def side(self) -> float:
        """Room for the names at either edge."""
        return min(_SIDE, max(width(name, strong=True) for name in self.names))


def frame_shapes(frame: Frame, y: float) -> tuple[Symbol, tuple[Shape, ...]]:
    """Return the frame and what is in it, its upper edge at y."""
    half = (len(frame.names) + 1) // 2
    sides = frame.names[:half], frame.names[half:]
    inner = frame.side + 2 * _INSET
    lines = wrap(frame.words, WIDTH - 2 * (EDGE + inner), strong=frame.hatched)
    tall = max(LINE * len(lines), *(_tall(side, frame.side) for side in sides))
    area = Area(EDGE, y, WIDTH - 2 * EDGE, tall + 2 * _RIM)
    middle = Area(EDGE + inner, y + _RIM, area.width - 2 * inner, tall)
    body = Symbol(frame.key, "frame", f"terminals: {frame.words}", area, boxes=(area,))
    left = _edge(sides[0], frame.side, y + _RIM, "l")
    right = _edge(sides[1], frame.side, y + _RIM, "r")
    return body, (_middle(frame, lines, middle), *left, *right)


def _tall(names: tuple[str, ...], room: float) -> float:
    return LINE * sum(len(wrap(name, room, strong=True)) for name in names)


def _middle(frame: Frame, lines: tuple[str, ...], place: Area) -> Symbol:
    x, first = place.x + place.width / 2, place.y + (place.height - LINE * (len(lines) - 1)) / 2
    texts = tuple(Text(x, first + LINE * i, words, "c", BODY, strong=frame.hatched)
                  for i, words in enumerate(lines))
    band = first - LINE / 2, first + LINE * (len(lines) - 0.5)
    strokes = tuple(_hatched(place, band)) if frame.hatched else ()
    return Symbol(frame.key, "inside", frame.words, place, strokes, texts=texts)


def _hatched(place: Area, band: tuple[float, float]) -> Iterator[Stroke]:
    """Yield strokes above and below the words."""
    for row in range(int(place.height // HATCH)):
        strip = Area(place.x, place.y + HATCH * row, place.width, HATCH)
        if strip.y + HATCH <= band[0] or strip.y >= band[1]:
            yield from hatch(strip)


def _edge(names: tuple[str, ...], room: float, y: float, anchor: str) -> Iterator[Ring]:
    for name in names:
        lines = wrap(name, room, strong=True)
        yield _terminal(name, lines, y, y + LINE / 2, anchor)
        y += LINE * len(lines)


def _terminal(
    name: str, lines: tuple[str, ...], y: float, level: float, anchor: str
) -> Ring:
    edge, inward = (EDGE, 1) if anchor == "l" else (WIDTH - EDGE, -1)
    texts = tuple(Text(edge + inward * _INSET, y + LINE * (i + 0.5), words, anchor, BODY,
                       strong=True) for i, words in enumerate(lines))
    return Ring(name, f"terminal {name}", edge, level, texts)


def joined_shapes(
    groups: tuple[tuple[str, ...], ...], y: float
) -> tuple[Symbol, tuple[Shape, ...]]:
    """Return terminals joined for good: the first of each group left, the others right of it."""
    top, shapes = y, list[Shape]()
    y += _RIM
    for first, *others in groups:
        rows = [wrap(name, _SIDE, strong=True) for name in (first, *others)]
        level = y + LINE * len(rows[0]) + _LEVEL / 2
        shapes.append(_terminal(first, rows[0], y, level, "l"))
        levels = []
        for name, lines in zip(others, rows[1:], strict=True):
            below = y + LINE * len(lines) + _LEVEL / 2
            shapes.append(_terminal(name, lines, y, below, "r"))
            levels.append(below)
            y += LINE * len(lines) + _LEVEL
        shapes += _joint(first, level, levels)
        y = max(y, level + _LEVEL / 2)
    area = Area(EDGE, top, WIDTH - 2 * EDGE, y + _RIM - top)
    body = Symbol("joined", "frame", "terminals joined for good", area, boxes=(area,))
    return body, tuple(shapes)


def _joint(net: str, level: float, levels: list[float]) -> Iterator[Line]:
    """Yield the line from the left edge to each terminal on the right."""
    x, near, far = WIDTH / 2, EDGE + 3, WIDTH - EDGE - 3
    yield Line(net, ((near, level), (x, level)))
    if (level, level) != (min(levels), max(levels)):
        yield Line(net, ((x, min(level, *levels)), (x, max(level, *levels))))
    for each in levels:
        yield Line(net, ((x, each), (far, each)))
