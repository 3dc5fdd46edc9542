"""What must hold of any circuit drawing, measured on its plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations
from typing import TypeVar

from generator.pages.drawings.circuit_grid import RING
from generator.pages.drawings.circuit_heads import ARROW
from generator.pages.drawings.circuit_plan import Arrow, CircuitPlan, Line, Ring, Symbol
from generator.pages.drawings.circuit_values import CircuitSheet
from generator.pages.drawings.lettering import width
from generator.pages.drawings.plan import Area, Text

Spot = tuple[float, float]
NEAR = 1e-6
T = TypeVar("T")


def room(text: Text) -> Area:
    """Return what a line of text covers."""
    wide = width(text.words, text.size, text.strong)
    left = text.x - {"l": 0, "c": wide / 2, "r": wide}[text.anchor]
    return Area(left, text.y - text.size / 2, wide, text.size)


def apart(a: Area, b: Area, gap: float = 0) -> bool:
    return (a.x + a.width + gap <= b.x + NEAR or b.x + b.width + gap <= a.x + NEAR
            or a.y + a.height + gap <= b.y + NEAR or b.y + b.height + gap <= a.y + NEAR)


def inside(a: Area, b: Area) -> bool:
    return (a.x >= b.x - NEAR and a.y >= b.y - NEAR
            and a.x + a.width <= b.x + b.width + NEAR
            and a.y + a.height <= b.y + b.height + NEAR)


def span(points: tuple[Spot, ...]) -> Area:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Area(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def of_kind(plan: CircuitPlan, kind: type[T]) -> list[T]:
    return [shape for shape in plan.shapes if isinstance(shape, kind)]


def texts(plan: CircuitPlan) -> list[Text]:
    return [text for shape in plan.shapes for text in getattr(shape, "texts", ())]


def circle(ring: Ring) -> Area:
    return Area(ring.x - RING, ring.y - RING, 2 * RING, 2 * RING)


def check_page(plan: CircuitPlan) -> None:
    """Everything lies on a page as wide as a phone, in letters that can be read."""
    assert plan.width == 360
    page = Area(0, 0, plan.width, plan.height)
    assert all(inside(room(text), page) and text.size >= 12 for text in texts(plan))
    assert all(inside(span(line.corners), page) for line in of_kind(plan, Line))
    assert all(inside(circle(ring), page) for ring in of_kind(plan, Ring))
    for symbol in of_kind(plan, Symbol):
        assert inside(symbol.area, page)
        assert all(inside(span(stroke), page) for stroke in symbol.strokes)


def check_texts(plan: CircuitPlan) -> None:
    """No text runs over another text, a line, a terminal or another thing's symbol."""
    rooms = [room(text) for text in texts(plan)]
    assert all(apart(a, b) for a, b in combinations(rooms, 2))
    lines = [span(line.corners) for line in of_kind(plan, Line)]
    rings = [circle(ring) for ring in of_kind(plan, Ring)]
    assert all(apart(text, other, 1) for text in rooms for other in [*lines, *rings])
    for symbol in of_kind(plan, Symbol):
        own = {room(text) for text in symbol.texts}
        strokes = [span(stroke) for stroke in symbol.strokes]
        boxes = symbol.boxes if symbol.kind in ("contact", "load") else ()
        assert all(apart(text, stroke) for text in rooms for stroke in strokes
                   if not _within(text, symbol))
        assert all(apart(text, box) for text in set(rooms) - own for box in boxes)


def _within(text: Area, symbol: Symbol) -> bool:
    """Tell whether a text is the letter in the symbol's own rectangle."""
    return symbol.kind in ("load", "box") and any(inside(text, box) for box in symbol.boxes)


def check_lines(plan: CircuitPlan) -> None:
    """Lines of two nets touch nowhere, save where one hops over the other."""
    for a, b in combinations(of_kind(plan, Line), 2):
        if a.net != b.net and not apart(span(a.corners), span(b.corners)):
            level, upright = (a, b) if a.corners[0][1] == a.corners[-1][1] else (b, a)
            assert (upright.corners[0][0], level.corners[0][1]) in level.hops
    bodies = [box for s in of_kind(plan, Symbol) if s.kind in ("contact", "load")
              for box in s.boxes]
    assert all(apart(span(line.corners), box) for line in of_kind(plan, Line) for box in bodies)
    assert all(apart(a, b) for a, b in combinations(bodies, 2))
    rings = of_kind(plan, Ring)
    assert all(apart(circle(a), circle(b)) for a, b in combinations(rings, 2))


def ends(symbol: Symbol) -> tuple[Spot, Spot]:
    """Return the upper and the lower end of a symbol's leads."""
    points = [point for stroke in symbol.strokes for point in stroke]
    return min(points, key=lambda p: p[1]), max(points, key=lambda p: p[1])


def check_ends(plan: CircuitPlan, sheet: CircuitSheet) -> None:
    """Each symbol meets a line of the right net at both ends, and each line ends at something."""
    elements = {element.key: element for element in sheet.elements}
    at = defaultdict(set)
    for line in of_kind(plan, Line):
        for spot in (line.corners[0], line.corners[-1]):
            at[_spot(spot)].add(line.net)
    drawn = [s for s in of_kind(plan, Symbol) if s.key in elements]
    assert len({s.key for s in drawn}) == len(drawn)
    for symbol in drawn:
        element = elements[symbol.key]
        upper, lower = (at[_spot(spot)] for spot in ends(symbol))
        met = sorted([*upper, *lower])
        assert met == sorted([element.a, element.b]) or (not upper and met[0] in
                                                         (element.a, element.b)), symbol.key
    for line in of_kind(plan, Line):
        for spot in (line.corners[0], line.corners[-1]):
            assert _held(plan, line, spot), (line, spot)


def _spot(spot: Spot) -> Spot:
    return round(spot[0], 3), round(spot[1], 3)


def _held(plan: CircuitPlan, line: Line, spot: Spot) -> bool:
    """Tell whether a line's end meets a terminal, a symbol, a named point, or its own net."""
    x, y = spot
    tips = [point for s in of_kind(plan, Symbol) if s.kind in ("contact", "load")
            for point in ends(s)]
    tips += [(r.x, r.y + d) for r in of_kind(plan, Ring) for d in (-RING, RING)]
    tips += [(r.x + d, r.y) for r in of_kind(plan, Ring) for d in (-RING, RING)]
    tips += [(a.x, a.y + d) for a in of_kind(plan, Arrow) for d in (0, ARROW)]
    own = (other for other in of_kind(plan, Line) if other is not line and other.net == line.net)
    boxes = [s.area for s in of_kind(plan, Symbol) if s.kind in ("box", "supply", "frame")]
    return (_spot(spot) in set(map(_spot, tips))
            or any(not apart(Area(x, y, 0, 0), span(other.corners), -1e-4)
                   or _on(spot, other) for other in own)
            or any(abs(y - edge) < 1 for box in boxes for edge in (box.y, box.y + box.height)))


def _on(spot: Spot, line: Line) -> bool:
    where = span(line.corners)
    return (where.x - NEAR <= spot[0] <= where.x + where.width + NEAR
            and where.y - NEAR <= spot[1] <= where.y + where.height + NEAR)


def pieces(plan: CircuitPlan, net: str) -> Iterator[set[Spot]]:
    """Yield the groups of a net's lines that touch one another, as the spots they hold."""
    lines = [line for line in of_kind(plan, Line) if line.net == net]
    groups: list[list[Line]] = []
    for line in lines:
        touching = [g for g in groups if any(_touch(plan, line, other) for other in g)]
        merged = [line, *(other for group in touching for other in group)]
        groups = [*(group for group in groups if group not in touching), merged]
    for group in groups:
        yield {_spot(spot) for line in group for spot in line.corners}


def _touch(plan: CircuitPlan, a: Line, b: Line) -> bool:
    if not apart(span(a.corners), span(b.corners), -1e-4) or any(
            _on(p, b) for p in a.corners) or any(_on(p, a) for p in b.corners):
        return True
    return any({_spot((r.x, r.y - RING)), _spot((r.x, r.y + RING))}
               <= {_spot(p) for line in (a, b) for p in line.corners}
               for r in of_kind(plan, Ring))


def check_nets(plan: CircuitPlan, sheet: CircuitSheet) -> None:
    """A net in more than one piece says its name at each, or hangs on one box."""
    named = defaultdict(set)
    for arrow in of_kind(plan, Arrow):
        for y in (arrow.y, arrow.y + ARROW):
            named[arrow.net].add(_spot((arrow.x, y)))
    for ring in of_kind(plan, Ring):
        for net, each in sheet.nets.items():
            if ring.key in (each.name, *each.edge, ", ".join(each.edge)):
                named[net] |= {_spot((ring.x, ring.y + d)) for d in (-RING, RING)}
    boxed = {net for source in sheet.sources if source.back for net in source.lower}
    for net in {line.net for line in of_kind(plan, Line)} - boxed:
        found = list(pieces(plan, net))
        unnamed = [piece for piece in found if not piece & named[net]]
        assert len(unnamed) <= 1, net
        if len(found) > 1 and not sheet.nets[net].edge:
            written = {text.words for text in texts(plan)}
            assert sheet.nets[net].name[:3] in "".join(written)


def check(plan: CircuitPlan, sheet: CircuitSheet) -> None:
    """Hold a drawing against all of it."""
    check_page(plan)
    check_texts(plan)
    check_lines(plan)
    check_ends(plan, sheet)
    check_nets(plan, sheet)


