"""The wiring drawing of a converted house with all its parts: size, crossings, SVG."""

import subprocess
from dataclasses import replace
from itertools import permutations
from xml.etree import ElementTree

import pytest

from generator.pages.drawing import DrawingError, render
from generator.pages.drawings import figures
from generator.pages.drawings.arranging import settled
from generator.pages.drawings.channels import Channel
from generator.pages.drawings.lanes import CLASH
from generator.pages.drawings.layout import placed, plan
from generator.pages.drawings.lettering import BODY
from generator.pages.drawings.sheet import Box, Pin, Wire, Wiring, mark
from generator.pages.drawings.wiring import draw


def _box(designation: str, title: str, labels: str, driven: bool = False) -> Box:
    pins = tuple(Pin(f"{designation}:{label}", label) for label in labels.split())
    return Box(designation, title, pins, driven)


def _core(line: str) -> Wire:
    cable, letters, start, end, net = line.split()
    colour, _, sleeve = letters.rstrip(")").partition("(")
    words = f"{cable} {letters} from {start} to {end}"
    return Wire(f"{cable}.{colour}", start, end, colour, sleeve, net, words)


def _link(number: int, pair: str) -> Wire:
    start, _, end = pair.partition("-")
    return Wire(f"link-{number}", start, end, "", "", start, f"link from {start} to {end}")


BOXES = (
    _box("Q1", "fused isolator", "L N PE"),
    _box("K1", "two-channel receiver", "L N ch-on hw-on PE"),
    _box("B1", "cylinder thermostat", "common call PE"),
    _box("F2", "overheat cut-out", "in out"),
    _box("X1", "terminals", "1 2 3 4 5 6 7 8 9 10 11 12"),
    _box("M1", "heating valve", "motor N PE switch-in switch-out", driven=True),
    _box("M2", "hot-water valve", "motor N PE switch-in switch-out", driven=True),
    _box("E1", "boiler", "L N PE SL", driven=True),
    _box("Q2", "immersion isolator", "L N PE"),
    _box("E2", "immersion heater", "L N PE", driven=True),
)

# Cable, colour with its sleeve in brackets, from, to, net.
CORES = """
W1 BN     Q1:L          X1:1      line
W1 BU     Q1:N          X1:3      neutral
W1 GNYE   Q1:PE         X1:11     earth
W2 BN     K1:L          X1:1      line
W2 BU     K1:N          X1:3      neutral
W2 BK     K1:ch-on      X1:5      heating-call
W2 GY     K1:hw-on      X1:7      hot-water-call
W2 GNYE   K1:PE         X1:11     earth
W3 BN     X1:7          B1:common hot-water-call
W3 GNYE   X1:11         B1:PE     earth
W3 BU(BN) F2:out        X1:8      hot-water-valve
W4 BN     X1:6          M1:motor  heating-call
W4 BU     X1:4          M1:N      neutral
W4 GNYE   X1:12         M1:PE     earth
W4 GY     X1:2          M1:switch-in line
W4 OG     M1:switch-out X1:9      boiler-call
W5 BN     X1:8          M2:motor  hot-water-valve
W5 BU     X1:4          M2:N      neutral
W5 GNYE   X1:12         M2:PE     earth
W5 GY     X1:2          M2:switch-in line
W5 OG     M2:switch-out X1:9      boiler-call
W6 BN     X1:1          E1:L      line
W6 BU     X1:3          E1:N      neutral
W6 GNYE   X1:11         E1:PE     earth
W6 BK     X1:9          E1:SL     boiler-call
W7 BN     Q2:L          E2:L      immersion-line
W7 BU     Q2:N          E2:N      immersion-neutral
W7 GNYE   Q2:PE         E2:PE     immersion-earth
"""
LINKS = "X1:1-X1:2 X1:3-X1:4 X1:5-X1:6 X1:11-X1:12 B1:call-F2:in"

SAMPLE = Wiring(
    "Heating and hot water with two valves",
    "Terminals X1 in the middle, what feeds and decides on the left, what is driven on the right.",
    BOXES,
    tuple(_core(line) for line in CORES.strip().splitlines())
    + tuple(_link(number, pair) for number, pair in enumerate(LINKS.split(), start=1)),
)


def test_twelve_ways_and_eight_parts_fit_a_phone() -> None:
    assert plan(SAMPLE).width == pytest.approx(360)


def test_names_wrap_and_never_shrink() -> None:
    drawn = plan(SAMPLE)
    names = [text for owner in (*drawn.parts, *drawn.terminals) for text in owner.texts]
    assert {text.size for text in names} == {BODY} == {12}
    assert {text.size for course in drawn.courses for text in course.texts} == {11}


def test_more_lanes_than_fit_make_the_drawing_wider() -> None:
    parts = tuple(_box(f"K{n}", "relay", "a b c d e f", driven=n > 5) for n in range(1, 11))
    strip = _box("X1", "terminals", "1 2 3 4 5 6")
    pairs = [
        (near.terminal, far)
        for part in parts
        for near, far in zip(part.pins, strip.pins, strict=True)
    ]
    wires = tuple(Wire(near, near, far.terminal, "BK", "", "", near) for near, far in pairs)
    assert plan(Wiring("many", "many", (strip, *parts), wires)).width > 380


def test_feeding_parts_stand_left_driven_parts_right_and_linked_parts_together() -> None:
    drawn = plan(SAMPLE)
    spine = next(part for part in drawn.parts if part.box.designation == "X1")
    left = {part.box.designation for part in drawn.parts if part.area.x < spine.area.x}
    right = {part.box.designation for part in drawn.parts if part.area.x > spine.area.x}
    assert left == {"Q1", "K1", "B1", "F2", "Q2"}
    assert right == {"M1", "M2", "E1"}


def test_parts_apart_from_the_strip_have_a_spine_of_their_own_below_it() -> None:
    areas = {part.box.designation: part.area for part in plan(SAMPLE).parts}
    assert areas["E2"].x == areas["X1"].x
    assert areas["E2"].y > areas["X1"].y + areas["X1"].height


def test_no_other_order_of_parts_has_fewer_crossings() -> None:
    for stand in placed(SAMPLE):
        for channel in (stand.left, stand.right):
            tried = [
                settled(order, channel.spine, channel.wires).lanes.crossings
                for order in permutations(channel.column)
            ]
            assert channel.lanes.crossings <= min(tried)


def test_links_beside_the_strip_cross_nothing() -> None:
    courses = plan(SAMPLE).courses
    hops = [hop for course in courses for hop in course.hops]
    links = [course for course in courses if course.wire.key in ("link-1", "link-2", "link-3")]
    assert len(links) == 3
    for link in links:
        (x, above), (_, below) = link.corners[1:3]
        assert not link.hops
        assert not any(hop_x == x and above < y < below for hop_x, y in hops)


def test_the_sample_has_no_more_crossings_than_before() -> None:
    assert sum(len(course.hops) for course in plan(SAMPLE).courses) <= 36


def test_parts_move_off_the_heights_where_wires_would_run_into_each_other() -> None:
    """Two wires that each must turn before the other: only heights of their own part them."""
    part = figures.part(
        _box("K1", "relay", "changeover-contact-1 changeover-contact-2 changeover-contact-3"),
        {},
        {},
    )
    strip = figures.spine(_box("X1", "strip", "1 2 3"), {}, 90, 20, ({}, {}))
    near, far = ([row.pin.terminal for row in figure.rows] for figure in (part, strip))
    ends = [(near[0], far[1]), (near[1], far[0]), (near[2], far[2])]
    wires = tuple(Wire(start, start, end, "BK", "", "", "") for start, end in ends)
    level = strip.rows[0].place(0, 1) - part.rows[0].place(0, 1)
    assert Channel((part,), (level,), strip, wires).lanes.crossings >= CLASH
    assert settled((part,), strip, wires).lanes.crossings < CLASH


def test_the_same_wiring_gives_the_same_bytes() -> None:
    again = Wiring(SAMPLE.title, SAMPLE.description, SAMPLE.boxes, SAMPLE.wires)
    assert draw(SAMPLE) == draw(again)


def test_what_becomes_of_a_core_is_marked_and_moves_nothing() -> None:
    going = tuple(replace(wire, fate="goes", net="", words="goes") for wire in SAMPLE.wires)
    drawn, marked = plan(SAMPLE), plan(replace(SAMPLE, wires=going))
    assert {course.wire for course in marked.courses} == set(going)
    assert [course.corners for course in marked.courses] == [
        course.corners for course in drawn.courses
    ]


def test_names_that_would_share_an_id_are_refused() -> None:
    with pytest.raises(ValueError, match="drawn twice: core-W1-BN"):
        Wiring("", "", BOXES, (_core("W1 BN Q1:L X1:1 a"), _core("W1 BN Q1:N X1:2 b")))


def test_a_wire_to_a_terminal_that_is_not_drawn_is_refused() -> None:
    with pytest.raises(ValueError, match="wired but not drawn: Q9:L"):
        Wiring("", "", BOXES, (_core("W1 BN Q9:L X1:1 a"),))


def test_letters_outside_the_colour_standard_are_refused() -> None:
    with pytest.raises(ValueError, match="IEC 60757: XX"):
        draw(Wiring("", "", BOXES, (_core("W1 XX Q1:L X1:1 a"),)))


SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def svg() -> ElementTree.Element:
    return ElementTree.fromstring(render(draw(SAMPLE)))


@pytest.mark.drawing
def test_the_svg_is_as_wide_as_its_place_and_says_what_it_shows(svg: ElementTree.Element) -> None:
    assert svg.attrib["width"] == "100%"
    assert svg.attrib["viewBox"].split()[2] == "360.00"
    assert "height" not in svg.attrib
    assert svg.attrib["role"] == "img"
    assert [svg[0].text, svg[1].text] == [SAMPLE.title, SAMPLE.description]


@pytest.mark.drawing
def test_every_part_terminal_and_core_is_a_group_that_says_in_words_what_it_is(
    svg: ElementTree.Element,
) -> None:
    groups = {group.attrib["id"]: group for group in svg.iter(f"{SVG}g") if "id" in group.attrib}
    expected = {
        mark("core", wire.key): (f"core {mark('net', wire.net)}", wire.words)
        for wire in SAMPLE.wires
    }
    for box in SAMPLE.boxes:
        expected[mark("part", box.designation)] = ("part", f"-{box.designation} {box.title}")
        for pin in box.pins:
            words = f"-{box.designation} {box.title}, terminal {pin.label}"
            expected[mark("terminal", pin.terminal)] = ("terminal", words)
    found = {
        ident: (group.attrib["class"], group[0].text)
        for ident, group in groups.items()
        if ident != "card"
    }
    assert found == expected


def check_paths(svg: ElementTree.Element) -> None:
    """Each core starts and ends where the plan says; Graphviz counts y from the foot upwards."""
    drawn = plan(SAMPLE)
    groups = {group.attrib.get("id"): group for group in svg.iter(f"{SVG}g")}
    for course in drawn.courses:
        path = next(groups[mark("core", course.wire.key)].iter(f"{SVG}path"))
        numbers = path.attrib["d"].replace("M", "").replace("C", " ").split()
        for point, (x, y) in ((numbers[0], course.corners[0]), (numbers[-1], course.corners[-1])):
            assert [float(each) for each in point.split(",")] == pytest.approx(
                [x, y - drawn.height], abs=0.02
            )


@pytest.mark.drawing
def test_each_core_is_drawn_where_the_plan_says(svg: ElementTree.Element) -> None:
    check_paths(svg)


@pytest.mark.neato
def test_a_second_graphviz_draws_the_same() -> None:
    done = subprocess.run(
        ["neato", "-n2", "-Tsvg"], input=draw(SAMPLE).encode(), capture_output=True, check=True
    )
    check_paths(ElementTree.fromstring(done.stdout))


@pytest.mark.drawing
def test_colours_are_written_at_both_ends_with_their_sleeves(svg: ElementTree.Element) -> None:
    groups = {group.attrib.get("id"): group for group in svg.iter(f"{SVG}g")}
    for wire in SAMPLE.wires:
        written = [text.text for text in groups[mark("core", wire.key)].iter(f"{SVG}text")]
        assert written == ([wire.letters] * 2 if wire.colour else [])
    assert "BU(BN)" in {wire.letters for wire in SAMPLE.wires}


@pytest.mark.drawing
def test_a_complaint_of_the_drawing_program_is_an_error() -> None:
    with pytest.raises(DrawingError, match="code"):
        render("graph {")


@pytest.mark.drawing
def test_something_left_out_of_the_drawing_is_an_error() -> None:
    with pytest.raises(DrawingError, match="not drawn: part-K1"):
        render('graph { a [pos="1,1" style=invis id="part-K1"] }')
