"""Whatever the wiring: every wire ends on its own terminal, and nothing runs over anything."""

from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st
from test_wiring_drawing_sample import SAMPLE

from generator.pages.drawings.curves import curve
from generator.pages.drawings.layout import PITCH, plan
from generator.pages.drawings.lettering import width
from generator.pages.drawings.plan import Area, Course, Plan, Text
from generator.pages.drawings.sheet import Box, Pin, Wire, Wiring
from generator.pages.drawings.wiring import draw

NAMES = st.text("abcdefg -", min_size=1, max_size=24)
COLOURS = st.sampled_from(["", "BN", "BU", "GNYE", "WH", "YE", "BK", "VT"])


@st.composite
def boxes(draw_: st.DrawFn, index: int) -> Box:
    designation = draw_(st.sampled_from("XKQMB")) + str(index)
    labels = draw_(st.lists(NAMES, min_size=1, max_size=6))
    pins = tuple(Pin(f"{designation}:{place}", label) for place, label in enumerate(labels))
    return Box(designation, draw_(NAMES), pins, draw_(st.booleans()))


@st.composite
def wirings(draw_: st.DrawFn) -> Wiring:
    parts = tuple(draw_(boxes(index)) for index in range(draw_(st.integers(1, 6))))
    terminals = st.sampled_from([pin.terminal for part in parts for pin in part.pins])
    ends = draw_(st.lists(st.tuples(terminals, terminals), max_size=18))
    wires = tuple(
        Wire(f"W{n}", start, end, draw_(COLOURS), draw_(st.sampled_from(["", "RD"])), f"{n}", "")
        for n, (start, end) in enumerate(ends)
    )
    return Wiring("any", "any", parts, wires)


def pieces(course: Course) -> list[Area]:
    """The straight pieces of a wire as rectangles without breadth."""
    return [
        Area(min(ax, bx), min(ay, by), abs(ax - bx), abs(ay - by))
        for (ax, ay), (bx, by) in pairwise(course.corners)
    ]


def room(text: Text) -> Area:
    """What a line of text covers: capitals and descenders of its size."""
    wide = width(text.words, text.size, text.strong)
    left = text.x - {"l": 0, "c": wide / 2, "r": wide}[text.anchor]
    return Area(left, text.y - text.size / 2, wide, text.size)


def apart(a: Area, b: Area, gap: float = 0) -> bool:
    return (
        a.x + a.width + gap <= b.x + 1e-6
        or b.x + b.width + gap <= a.x + 1e-6
        or a.y + a.height + gap <= b.y + 1e-6
        or b.y + b.height + gap <= a.y + 1e-6
    )


def inside(a: Area, b: Area) -> bool:
    return (
        a.x >= b.x - 1e-6
        and a.y >= b.y - 1e-6
        and a.x + a.width <= b.x + b.width + 1e-6
        and a.y + a.height <= b.y + b.height + 1e-6
    )


def check_ends(drawn: Plan) -> None:
    places = {terminal.pin.terminal: terminal.area for terminal in drawn.terminals}
    for course in drawn.courses:
        ends = (course.wire.start, course.corners[0]), (course.wire.end, course.corners[-1])
        for terminal, (x, y) in ends:
            area = places[terminal]
            assert min(abs(x - area.x), abs(x - area.x - area.width)) < 1e-6
            assert area.y < y < area.y + area.height


def check_wires_keep_apart(drawn: Plan) -> None:
    """Beside each other at the distance of lanes or more; across each other with a hop."""
    for a, b in combinations(drawn.courses, 2):
        crossed = set()
        for one in pieces(a):
            for other in pieces(b):
                if (one.width > 0) != (other.width > 0):
                    level, upright = (one, other) if one.width > 0 else (other, one)
                    if not apart(level, upright):
                        crossed.add((upright.x, level.y))
                else:
                    assert apart(one, other, PITCH)
        assert crossed <= {*a.hops, *b.hops}


def check_every_hop_is_a_crossing(drawn: Plan) -> None:
    for course in drawn.courses:
        others = [
            piece for other in drawn.courses if other is not course for piece in pieces(other)
        ]
        for x, y in course.hops:
            assert any(
                piece.height > 0 and piece.x == x and piece.y < y < piece.y + piece.height
                for piece in others
            )


def check_texts(drawn: Plan) -> None:
    owners = (*drawn.parts, *drawn.terminals, *drawn.courses)
    rooms = [room(text) for owner in owners for text in owner.texts if text.words]
    lines = [piece for course in drawn.courses for piece in pieces(course)]
    assert all(apart(a, b) for a, b in combinations(rooms, 2))
    assert all(apart(text, line, 1) for text in rooms for line in lines)
    for owner in (*drawn.parts, *drawn.terminals):
        assert all(inside(room(text), owner.area) for text in owner.texts)
    places = {terminal.pin.terminal: terminal.area for terminal in drawn.terminals}
    for course in drawn.courses:
        for text, terminal in zip(course.texts, (course.wire.start, course.wire.end), strict=False):
            assert inside(room(text), places[terminal])


def check_parts(drawn: Plan) -> None:
    """Parts stand apart, on the sheet, and no wire runs through one."""
    sheet = Area(0, 0, drawn.width, drawn.height)
    lines = [piece for course in drawn.courses for piece in pieces(course)]
    assert all(apart(a.area, b.area, PITCH) for a, b in combinations(drawn.parts, 2))
    assert all(inside(each, sheet) for each in [*lines, *(part.area for part in drawn.parts)])
    assert all(apart(line, part.area) for line in lines for part in drawn.parts)


def check(wiring: Wiring) -> None:
    drawn = plan(wiring)
    assert sorted(c.wire.key for c in drawn.courses) == sorted(w.key for w in wiring.wires)
    assert sorted(p.box.designation for p in drawn.parts) == sorted(
        box.designation for box in wiring.boxes
    )
    check_ends(drawn)
    check_wires_keep_apart(drawn)
    check_every_hop_is_a_crossing(drawn)
    check_texts(drawn)
    check_parts(drawn)


@settings(max_examples=150, deadline=None)
@given(wirings())
def test_any_wiring_can_be_followed(wiring: Wiring) -> None:
    check(wiring)


def test_the_sample_can_be_followed() -> None:
    check(SAMPLE)


@settings(max_examples=30, deadline=None)
@given(wirings())
def test_a_curve_starts_and_ends_where_its_wire_does(wiring: Wiring) -> None:
    for course in plan(wiring).courses:
        points = curve(course.corners, course.hops)
        assert points[0] == course.corners[0]
        assert points[-1] == course.corners[-1]
        assert len(points) % 3 == 1
        xs = [x for x, _ in course.corners]
        assert all(min(xs) - 1e-6 <= x <= max(xs) + 1e-6 for x, _ in points)


@settings(max_examples=30, deadline=None)
@given(wirings())
def test_any_wiring_gives_dot_text_with_all_ids(wiring: Wiring) -> None:
    dot = draw(wiring)
    assert all(f'id="core-{wire.key}"' in dot for wire in wiring.wires)
    assert all(f'id="part-{box.designation}"' in dot for box in wiring.boxes)
