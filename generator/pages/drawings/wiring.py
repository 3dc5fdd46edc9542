"""The wiring drawing as DOT text: every place is settled here, Graphviz only draws."""

from collections.abc import Iterator
from functools import lru_cache

from generator.pages.drawings import dot
from generator.pages.drawings.colours import Ink, ink
from generator.pages.drawings.curves import curve
from generator.pages.drawings.layout import plan
from generator.pages.drawings.plan import Area, Course, Part, Plan, Terminal
from generator.pages.drawings.sheet import Wiring, mark

_LINE = 2.0
_HEAVY = 3.0


@lru_cache(maxsize=256)
def draw(wiring: Wiring) -> str:
    """DOT text for `neato -n2`; the same wiring gives the same bytes.

    Remembered, since a server that follows an author draws what has not changed again and again.
    """
    whole = plan(wiring)
    tall = whole.height
    statements = list(_card(whole, wiring))
    for part in whole.parts:
        statements.extend(_part(tall, part))
    for terminal in whole.terminals:
        statements.extend(_terminal(tall, terminal))
    for course in whole.courses:
        statements.extend(_letters(tall, course))
    for course in whole.courses:
        statements.extend(_core(tall, course))
    return dot.document(statements)


def _card(whole: Plan, wiring: Wiring) -> Iterator[str]:
    """White behind everything, on dark pages too; it carries the text alternative."""
    card = Area(0, 0, whole.width, whole.height)
    look = {"shape": "box", "style": "filled", "fillcolor": "white", "color": "none"}
    yield dot.area(whole.height, "card", card, **look, tooltip=wiring.title)
    yield dot.area(whole.height, "card+words", card, tooltip=wiring.description)


def _part(tall: float, part: Part) -> Iterator[str]:
    ident = mark("part", part.box.designation)
    look = {"shape": "box", "style": "rounded,filled", "fillcolor": "#e6ebef", "color": "#b4bdc6"}
    words = f"-{part.box.designation} {part.box.title}"
    yield dot.area(tall, ident, part.area, class_="part", **look, tooltip=words)
    for line, text in enumerate(part.texts):
        yield dot.text(tall, f"{ident}+{line}", text, "part")


def _terminal(tall: float, terminal: Terminal) -> Iterator[str]:
    ident = mark("terminal", terminal.pin.terminal)
    style, rim = ("filled", "#4a4f55") if terminal.cell else ("rounded,filled", "none")
    look = {"shape": "box", "style": style, "fillcolor": "white", "color": rim}
    words = f"-{terminal.box.designation} {terminal.box.title}, terminal {terminal.pin.label}"
    yield dot.area(tall, ident, terminal.area, class_="terminal", **look, tooltip=words)
    for line, text in enumerate(terminal.texts):
        yield dot.text(tall, f"{ident}+{line}", text, "terminal")


def _letters(tall: float, course: Course) -> Iterator[str]:
    ident = mark("core", course.wire.key)
    for end, text in enumerate(course.texts):
        yield dot.text(tall, f"{ident}+{end}", text, "core")


def _core(tall: float, course: Course) -> Iterator[str]:
    """One path for each stroke, the widest first."""
    wire = course.wire
    ident = mark("core", wire.key)
    ends = mark("terminal", wire.start), mark("terminal", wire.end)
    points = curve(course.corners, course.hops)
    broad = _HEAVY if wire.fate == "comes" else _LINE
    for stroke, (colour, wide, style) in enumerate(_strokes(ink(wire.colour), broad)):
        yield dot.path(
            tall,
            ends,
            points,
            id=f"{ident}+stroke{stroke}" if stroke else ident,
            class_=" ".join(filter(None, ("core", wire.net and mark("net", wire.net), wire.fate))),
            color=colour,
            penwidth=f"{wide:g}",
            style="dashed" if wire.fate == "goes" else style,
            tooltip=wire.words,
        )


def _strokes(colour: Ink, broad: float) -> Iterator[tuple[str, float, str]]:
    if colour.casing:
        yield colour.casing, broad + 1.4, "solid"
    yield colour.hue, broad, "solid"
    if colour.stripe:
        yield colour.stripe, broad * 0.6, "dashed"
