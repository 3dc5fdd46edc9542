"""The circuit of the converted house and a relay's inside: what stands where, DOT text and SVG.

After an intended change, look at the drawings and then write the files anew with
`HANDBOOK_WRITE_SNAPSHOTS=1 pytest tests/pages/test_circuit_drawing_sample.py`; that run fails on
purpose, so that no run that wrote them counts as a test.
"""

from __future__ import annotations

import os
import re
import subprocess
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.pages.circuit_sheet import circuit_sheet
from generator.pages.drawing import render
from generator.pages.drawings.circuit import draw_circuit
from generator.pages.drawings.circuit_layout import circuit_plan
from generator.pages.drawings.circuit_plan import Line, Ring, Symbol
from generator.pages.drawings.circuit_values import CircuitSheet
from generator.pages.drawings.inner import draw_inner
from generator.pages.inner_sheet import inner_sheet
from tests.circuit.flagship import system
from tests.pages.circuit_geometry import ends, of_kind
from tests.pages.test_inner_drawing import PARTS

SNAPSHOTS = Path(__file__).with_name("snapshots")
SVG = "{http://www.w3.org/2000/svg}"


@cache
def sheet(wall: str = "fitted") -> CircuitSheet:
    return circuit_sheet(system(wall))


@cache
def places(wall: str = "fitted") -> dict[str, Symbol]:
    """Return every contact and load of the house by its key."""
    return {symbol.key: symbol for symbol in of_kind(circuit_plan(sheet(wall)), Symbol)}


def drawn() -> dict[str, str]:
    """Return the DOT text of both samples."""
    return {"circuit-two-zones": draw_circuit(sheet()),
            "inside-relay": draw_inner(inner_sheet(PARTS["relay-change-over"]))}


@pytest.mark.parametrize("name", ["circuit-two-zones", "inside-relay"])
def test_the_dot_text_is_as_it_was(name: str) -> None:
    text, file = drawn()[name], SNAPSHOTS / f"{name}.dot"
    if os.environ.get("HANDBOOK_WRITE_SNAPSHOTS") == "1":
        file.write_text(text, encoding="utf-8")
        pytest.fail(f"{file.name} was written anew")
    assert text == file.read_text(encoding="utf-8")


def test_current_meets_contacts_from_top_to_foot() -> None:
    """Trade facts of the hot-water chain: call, cylinder thermostat, cut-out, motor, one column."""
    keys = ("contact-Q1.fuse-link", "contact-Q1.line-pole", "contact-K1.water-contact",
            "contact-B1.call-contact", "contact-F2.cut-out-contact", "load-M2.motor",
            "contact-Q1.neutral-pole")
    tops = [places()[key].area.y for key in keys]
    assert tops == sorted(tops)
    assert len({places()[key].area.x for key in keys[2:6]}) == 1


def test_end_switches_stand_side_by_side_and_join_above_the_boiler() -> None:
    first, second = (places()[f"contact-{m}.end-switch"] for m in ("M1", "M2"))
    boiler = places()["load-E1.input"]
    assert first.area.y == second.area.y < boiler.area.y
    (_, foot), (_, other) = ends(first), ends(second)
    levels = [line for line in of_kind(circuit_plan(sheet()), Line)
              if line.corners[0][1] == line.corners[-1][1] > foot[1]
              and {x for x, _ in line.corners} == {foot[0], other[0]}]
    element = next(e for e in sheet().elements if e.key == "load-E1.input")
    assert [line.net for line in levels] == [element.a]


def test_end_switches_say_which_position_closes_them() -> None:
    words = [text.words for text in places()["contact-M1.end-switch"].texts]
    assert " ".join(words) == "-M1 valve open"


def test_isolator_and_fuse_stand_once_for_all_that_hangs_on_them() -> None:
    keys = [s.key for s in of_kind(circuit_plan(sheet()), Symbol)]
    assert all(keys.count(f"contact-Q1.{pole}") == 1
               for pole in ("fuse-link", "line-pole", "neutral-pole"))


def test_two_supplies_stand_side_by_side() -> None:
    first, second = (places("found")[f"supply-{name}"] for name in ("controls", "immersion"))
    assert first.area.y == second.area.y
    assert first.area.x < second.area.x


def test_what_is_not_drawn_is_said() -> None:
    said = "; ".join(sheet().undrawn)
    assert "-E2 immersion heater, without supply: no line reaches it" in said
    assert "-B1 common to satisfied: feeds nothing drawn here" in said


def test_behind_a_closed_box_nothing_is_guessed() -> None:
    found = places("found")
    assert [text.words for text in found["-K9-head"].texts] == [
        "-K9 wiring box with board: inside not known"]
    rings = {ring.key for ring in of_kind(circuit_plan(sheet("found")), Ring)}
    assert {"-K9:valve1-motor", "-K9:valve1-N", "-K9:valve2-open"} <= rings


def test_the_text_alternative_says_what_each_load_hangs_on() -> None:
    said = sheet().description
    assert ("-M2 hot-water valve: -Q1 fuse 3 A, then -Q1 switch on, then -K1 hot-water call, then "
            "-B1 water cold, then -F2 cut-out healthy") in said
    assert "then (-M1 valve open or -M2 valve open)" in said


@pytest.mark.drawing
@pytest.mark.parametrize("name", ["circuit-two-zones", "inside-relay"])
def test_every_group_says_in_words_what_it_is(name: str) -> None:
    svg = ElementTree.fromstring(render(drawn()[name]))
    owners = {ident.partition("+")[0] for ident in re.findall(r' id="([^"]+)"', drawn()[name])}
    groups = {g.attrib["id"]: g for g in svg.iter(f"{SVG}g") if "id" in g.attrib}
    assert set(groups) == owners
    said = {ident: (group[0].text or "") for ident, group in groups.items() if ident != "card"}
    assert all(len(words) > 3 for words in said.values()), said
    assert svg.attrib["viewBox"].split()[2] == "360.00"
    assert svg[0].text
    assert svg[1].text


@pytest.mark.drawing
def test_lines_are_drawn_where_the_plan_says() -> None:
    check_paths(ElementTree.fromstring(render(draw_circuit(sheet()))))


@pytest.mark.neato
def test_a_second_graphviz_draws_the_same() -> None:
    done = subprocess.run(["neato", "-n2", "-Tsvg"], input=draw_circuit(sheet()).encode(),
                          capture_output=True, check=True)
    check_paths(ElementTree.fromstring(done.stdout))


def check_paths(svg: ElementTree.Element) -> None:
    """Each line's ends are among those drawn; Graphviz counts y from the foot upwards."""
    plan = circuit_plan(sheet())
    found = set()
    for path in svg.iter(f"{SVG}path"):
        numbers = path.attrib["d"].replace("M", "").replace("C", " ").split()
        found.add(tuple(round(float(n), 1) for p in (numbers[0], numbers[-1])
                        for n in p.split(",")))
    for line in of_kind(plan, Line):
        (x1, y1), (x2, y2) = line.corners[0], line.corners[-1]
        wanted = x1, y1 - plan.height, x2, y2 - plan.height
        assert any(all(abs(a - b) < 0.11 for a, b in zip(wanted, each, strict=True))
                   for each in found), line
