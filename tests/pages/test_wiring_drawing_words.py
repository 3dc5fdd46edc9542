"""Words in a drawing: where they break, and that any letters come through to the page."""

from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.pages.drawing import render
from generator.pages.drawings.colours import ink
from generator.pages.drawings.layout import plan
from generator.pages.drawings.lettering import width, wrap
from generator.pages.drawings.sheet import Box, Pin, Wiring
from generator.pages.drawings.wiring import draw

SVG = "{http://www.w3.org/2000/svg}"
WORDS = st.text(st.characters(exclude_categories=["C"]), max_size=30)


def test_words_break_after_spaces_and_hyphens() -> None:
    assert wrap("hot-water valve", width("hot-wat")) == ("hot-", "water", "valve")
    assert wrap("hot-water valve", width("hot-water")) == ("hot-water", "valve")
    assert wrap("hot-water valve", width("hot-water valve")) == ("hot-water valve",)


def test_the_first_line_stays_empty_where_nothing_fits_beside_the_designation() -> None:
    assert wrap("thermostat", width("thermostat"), indent=20) == ("", "thermostat")


def test_a_word_wider_than_its_room_breaks_inside() -> None:
    assert wrap("mmm", width("mm")) == ("mm", "m")


@given(WORDS, st.floats(15, 100), st.floats(0, 50))
def test_no_line_is_wider_than_its_room_and_no_letter_is_lost(
    words: str, room: float, indent: float
) -> None:
    lines = wrap(words, room, indent)
    assert width(lines[0]) <= room - indent or not lines[0]
    assert all(width(line) <= room for line in lines)
    assert "".join("".join(lines).split()) == "".join(words.split())


def test_widths_are_those_of_the_font() -> None:
    """DejaVu Sans 2.37, table hmtx, units of 1/2048: A is 1401 wide, bold 1585."""
    assert width("A", 2048) == pytest.approx(1401, abs=2)
    assert width("A", 2048, strong=True) == pytest.approx(1585, abs=2)


def test_every_letter_code_of_the_colour_standard_has_an_ink() -> None:
    """IEC 60757:2021, table of single colours, and the combination for protective conductors."""
    letters = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"]
    assert len({ink(each).hue for each in letters}) == len(letters)
    assert ink("GNYE").hue == ink("GN").hue


def test_green_and_yellow_shows_both_and_light_cores_have_a_dark_casing() -> None:
    assert ink("GNYE").stripe == ink("YE").hue
    assert all(ink(letters).casing for letters in ("WH", "YE"))
    assert not ink("BN").casing


@pytest.mark.drawing
@settings(max_examples=100, deadline=None)
@given(WORDS, WORDS, WORDS)
def test_any_letters_come_through_to_the_page(title: str, name: str, label: str) -> None:
    box = Box("K1", name, (Pin("K1:1", label),), False)
    wiring = Wiring(title, name, (box,), ())
    svg = ElementTree.fromstring(render(draw(wiring)))
    groups = {group.attrib.get("id"): group for group in svg.iter(f"{SVG}g")}
    assert (svg[0].text or "") == " ".join(title.split())
    written = "".join(text.text or "" for text in groups["terminal-K1-1"].iter(f"{SVG}text"))
    assert "".join(written.split()) == "".join(label.split())
    assert float(svg.attrib["viewBox"].split()[2]) == pytest.approx(plan(wiring).width, abs=0.01)
