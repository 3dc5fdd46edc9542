"""The circuit drawing as DOT text: every place is settled before, Graphviz only draws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from generator.pages.drawings import dot
from generator.pages.drawings.circuit_grid import RING
from generator.pages.drawings.circuit_heads import ARROW
from generator.pages.drawings.circuit_layout import circuit_plan
from generator.pages.drawings.circuit_plan import (
    Arrow,
    CircuitPlan,
    Dot,
    Line,
    Ring,
    Shape,
    Stroke,
    Symbol,
)
from generator.pages.drawings.circuit_values import CircuitSheet
from generator.pages.drawings.curves import curve
from generator.pages.drawings.plan import Area, Text
from generator.pages.drawings.sheet import mark

_INK = "#1c1c1c"
_PALE = "#4a4f55"
_THIN, _BROAD = "1.5", "1.8"
_DOT = 2.4
_ENDS = "card", "card+words"  # Graphviz wants two nodes for a path whose course is settled


def draw_circuit(sheet: CircuitSheet) -> str:
    """Return DOT text for `neato -n2`; the same circuit gives the same bytes."""
    return document(circuit_plan(sheet), sheet)


def document(plan: CircuitPlan, sheet: CircuitSheet) -> str:
    """Return the DOT text of a plan."""
    writer = _Writer(plan, sheet)
    bodies = [each for each in plan.shapes if isinstance(each, Symbol)]
    others = [each for each in plan.shapes if not isinstance(each, Symbol)]
    statements = [*_card(plan, sheet)]
    for shape in (*bodies, *others):
        statements += writer.shape(shape)
    return dot.document(statements)


def _card(plan: CircuitPlan, sheet: CircuitSheet) -> Iterator[str]:
    card = Area(0, 0, plan.width, plan.height)
    look = {"shape": "box", "style": "filled", "fillcolor": "white", "color": "none"}
    yield dot.area(plan.height, "card", card, **look, tooltip=sheet.title)
    yield dot.area(plan.height, "card+words", card, tooltip=sheet.description)


class _Writer:
    """Writes shapes; all pieces of one net, and all places of one terminal, are one group."""

    def __init__(self, plan: CircuitPlan, sheet: CircuitSheet) -> None:
        self.tall, self.sheet = plan.height, sheet
        self.pieces: Counter[str] = Counter()

    def shape(self, shape: Shape) -> Iterator[str]:
        match shape:
            case Symbol():
                return self._symbol(shape)
            case Ring():
                return self._ring(shape)
            case Dot():
                return self._dot(shape)
            case Arrow():
                return self._arrow(shape)
            case Line():
                return self._path(mark("net", shape.net), shape.corners, shape.hops, "net",
                                  self.sheet.nets[shape.net].words)

    def _ident(self, owner: str) -> str:
        """Return the owner's own id for its first piece, and then ids that join it."""
        self.pieces[owner] += 1
        return owner if self.pieces[owner] == 1 else f"{owner}+{self.pieces[owner]}"

    def _symbol(self, symbol: Symbol) -> Iterator[str]:
        owner = mark(symbol.kind, symbol.key.removeprefix(f"{symbol.kind}-"))
        look = {"shape": "box", "style": "filled", "fillcolor": "white", "color": "none"}
        yield dot.area(self.tall, self._ident(owner), symbol.area, class_=symbol.kind, **look,
                       tooltip=symbol.words)
        for box in symbol.boxes:
            rim = {"shape": "box", "style": "filled", "fillcolor": "white", "color": _INK,
                   "penwidth": _THIN}
            yield dot.area(self.tall, self._ident(owner), box, class_=symbol.kind, **rim)
        yield from self._texts(owner, symbol.texts, symbol.kind)
        for stroke in symbol.strokes:
            yield from self._path(owner, stroke, (), symbol.kind, symbol.words,
                                  _PALE if symbol.kind == "box" else _INK)

    def _texts(self, owner: str, texts: tuple[Text, ...], kind: str) -> Iterator[str]:
        for text in texts:
            yield dot.text(self.tall, self._ident(owner), text, kind)

    def _ring(self, ring: Ring) -> Iterator[str]:
        owner = mark("terminal", ring.key)
        place = Area(ring.x - RING, ring.y - RING, 2 * RING, 2 * RING)
        look = {"shape": "circle", "style": "filled", "fillcolor": "white", "color": _INK,
                "penwidth": _THIN}
        yield dot.area(self.tall, self._ident(owner), place, class_="terminal", **look,
                       tooltip=ring.words)
        yield from self._texts(owner, ring.texts, "terminal")

    def _dot(self, place: Dot) -> Iterator[str]:
        area = Area(place.x - _DOT, place.y - _DOT, 2 * _DOT, 2 * _DOT)
        look = {"shape": "circle", "style": "filled", "fillcolor": _INK, "color": _INK}
        yield dot.area(self.tall, self._ident(mark("net", place.net)), area, class_="net", **look,
                       tooltip=self.sheet.nets[place.net].words)

    def _arrow(self, arrow: Arrow) -> Iterator[str]:
        owner, words = mark("net", arrow.net), self.sheet.nets[arrow.net].words
        x, y = arrow.x, arrow.y
        tip = (x - 5, y), (x, y + ARROW), (x + 5, y), (x - 5, y)
        yield from self._path(owner, tip, (), "net", words, straight=True)
        yield from self._texts(owner, arrow.texts, "net")

    def _path(
        self, owner: str, corners: Stroke, hops: Stroke, kind: str, words: str,
        colour: str = _INK, straight: bool = False,
    ) -> Iterator[str]:
        points = _polygon(corners) if straight else curve(corners, hops)
        yield dot.path(self.tall, _ENDS, points, id=self._ident(owner), class_=kind,
                       color=colour, penwidth=_BROAD if kind == "net" else _THIN, tooltip=words)


def _polygon(corners: Stroke) -> Stroke:
    """Return straight pieces as a Bezier curve with sharp corners."""
    points = [corners[0]]
    for a, b in pairwise(corners):
        third = (b[0] - a[0]) / 3, (b[1] - a[1]) / 3
        points += [(a[0] + third[0], a[1] + third[1]),
                   (a[0] + 2 * third[0], a[1] + 2 * third[1]), b]
    return tuple(points)
