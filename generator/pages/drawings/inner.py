"""The drawing of a part's inside: its circuit, terminals that stand alone, what moves."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from generator.pages.drawings.circuit import document
from generator.pages.drawings.circuit_grid import EDGE, LINE, WIDTH
from generator.pages.drawings.circuit_layout import circuit_plan
from generator.pages.drawings.circuit_plan import CircuitPlan, Symbol
from generator.pages.drawings.inner_frames import Frame, frame_shapes, joined_shapes
from generator.pages.drawings.inner_values import InnerSheet
from generator.pages.drawings.lettering import BODY, wrap
from generator.pages.drawings.plan import Area, Text

_GAP = 8.0


def draw_inner(sheet: InnerSheet) -> str:
    """Return DOT text for `neato -n2`; the same part gives the same bytes."""
    return document(inner_plan(sheet), sheet.circuit)


def inner_plan(sheet: InnerSheet) -> CircuitPlan:
    """Return the inside with a place for everything, one frame below the other."""
    circuit = circuit_plan(sheet.circuit)
    shapes, y = list(circuit.shapes), circuit.height if circuit.shapes else EDGE
    frames = [partial(frame_shapes, frame) for frame in _frames(sheet)]
    if sheet.joined:
        frames.insert(0, partial(joined_shapes, sheet.joined))
    for frame in frames:
        body, others = frame(y)
        shapes += [body, *others]
        y += body.area.height + _GAP
    for name, words in sheet.positions:
        said = _position(name, words, y)
        shapes.append(said)
        y += said.area.height
    return CircuitPlan(WIDTH, y + EDGE, tuple(shapes))


def _frames(sheet: InnerSheet) -> Iterator[Frame]:
    if sheet.closed:
        yield Frame("closed", sheet.closed, "not known", hatched=True)
    if sheet.alone:
        yield Frame("alone", sheet.alone, "meets no contact or load")


def _position(name: str, words: str, y: float) -> Symbol:
    lines = wrap(f"{name}: {words}", WIDTH - 2 * EDGE)
    texts = tuple(Text(EDGE, y + LINE * (i + 0.5), line, "l", BODY)
                  for i, line in enumerate(lines))
    area = Area(EDGE, y, WIDTH - 2 * EDGE, LINE * len(lines))
    return Symbol(name, "position", f"{name}: {words}", area, texts=texts)
