"""The inside of any part: terminals on the edge, contacts at rest, nothing over anything."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.pages.drawings.circuit_changes import ChangeOver, paired
from generator.pages.drawings.circuit_layout import trees
from generator.pages.drawings.circuit_plan import Ring, Symbol
from generator.pages.drawings.circuit_values import Look
from generator.pages.drawings.inner import draw_inner, inner_plan
from generator.pages.inner_sheet import inner_sheet
from generator.recipe.articles import Part
from generator.recipe.library import Library
from tests.pages.circuit_geometry import check, of_kind

RECIPES = Path(__file__).parents[2] / "recipes"
FILES = sorted((RECIPES / "parts").glob("*.yaml"))
NAMES = [f"{word}{n}" for word in ("L", "heating-on-", "after-thermostat-") for n in range(1, 5)]


def shipped() -> dict[str, Part]:
    """Return every part of the handbook by its name."""
    library = Library(RECIPES)
    models = {file.stem: library.source(file).model for file in FILES}
    return {name: model for name, model in models.items() if isinstance(model, Part)}


PARTS = shipped()


@st.composite
def parts(draw: st.DrawFn) -> Part:
    """Return a strategy for parts of any wiring, sense or nonsense."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=9, unique=True))
    pair = st.tuples(st.sampled_from(names), st.sampled_from(names)).map(list)
    setting = st.dictionaries(st.sampled_from(["call", "valve"]), st.sampled_from(["no", "yes"]),
                              min_size=1)
    contact = st.fixed_dictionaries({"between": pair, "closed-while": setting})
    load = st.fixed_dictionaries({
        "kind": st.sampled_from(["motor", "electronics", "volt-free input"]), "between": pair,
        "watts": st.just(5.0), "says": st.sampled_from(["", "a load that is said in words"])})
    return Part.model_validate({
        "kind": "part", "name": "made", "letter": "K", "about": "made", "protection": "none",
        "terminals": {name: {"row": draw(st.sampled_from(["", "inside"]))} for name in names},
        "switches": {"call": {"kind": "call", "rest": "no", "worked": "yes"}},
        "positions": {"valve": {"rest": "no", "worked": "yes", "moves-while": "call",
                                "opens-in": "10 s", "shuts-in": "10 s"}},
        "contacts": {f"c{i}": each for i, each in enumerate(draw(st.lists(contact, max_size=6)))},
        "loads": {f"x{i}": each for i, each in enumerate(draw(st.lists(load, max_size=4)))},
        "joints": {f"j{i}": each for i, each in enumerate(draw(st.lists(pair, max_size=2)))},
        "closed": draw(st.lists(st.sampled_from(names), max_size=3, unique=True)),
    })


def check_part(part: Part) -> None:
    """Hold a part's drawing against what holds of any, and count what it shows."""
    sheet = inner_sheet(part)
    plan = inner_plan(sheet)
    check(plan, sheet.circuit)
    drawn = {symbol.key for symbol in of_kind(plan, Symbol)}
    bridged = {element.key for element in sheet.circuit.elements if element.a == element.b}
    wanted = {*(f"contact-{c}" for c in part.contacts), *(f"load-{x}" for x in part.loads)}
    assert wanted - bridged <= drawn
    shown = ", ".join(ring.key for ring in of_kind(plan, Ring)).split(", ")
    assert set(part.terminals) <= set(shown)
    assert bool(part.closed) == any(symbol.key == "closed" for symbol in of_kind(plan, Symbol))


@pytest.mark.parametrize("name", PARTS)
def test_the_inside_of_every_part_can_be_followed(name: str) -> None:
    check_part(PARTS[name])


@settings(max_examples=150, deadline=None)
@given(parts())
def test_the_inside_of_any_part_can_be_followed(part: Part) -> None:
    check_part(part)


def test_what_is_reached_only_past_a_net_at_the_foot_is_drawn_too() -> None:
    check_part(Part.model_validate({
        "kind": "part", "name": "made", "letter": "K", "about": "made", "protection": "none",
        "terminals": {name: {} for name in ("a", "N", "c", "d")},
        "switches": {"call": {"kind": "call", "rest": "no", "worked": "yes"}},
        "contacts": {"k": {"between": ["c", "N"], "closed-while": {"call": "no"}}},
        "loads": {name: {"kind": "motor", "between": ends, "watts": 5}
                  for name, ends in (("x", ["a", "N"]), ("y", ["a", "d"]), ("z", ["d", "a"]))},
    }))


def test_a_part_with_nothing_inside_still_shows_its_terminals() -> None:
    plan = inner_plan(inner_sheet(PARTS["terminal-strip-12"]))
    assert len(of_kind(plan, Ring)) == 12


def test_two_contacts_of_one_switch_at_one_terminal_are_a_change_over() -> None:
    """IEC 60617 S00230: change-over break before make contact; the break side is joined at rest."""
    (tree,) = trees(inner_sheet(PARTS["relay-change-over"]).circuit)
    changes = [each for fork in tree.forks for each in paired(fork)
               if isinstance(each, ChangeOver)]
    assert [(c.rest.block.key, c.worked.block.key) for c in changes] == [
        ("contact-break-contact", "contact-make-contact")]


@pytest.mark.parametrize(("part", "contact", "look"), [
    ("two-port-valve", "end-switch", Look.MAKE),
    ("cylinder-thermostat", "call-contact", Look.BREAK),
    ("overheat-cut-out", "cut-out-contact", Look.BREAK),
    ("fused-connection-unit", "fuse-link", Look.FUSE),
    ("fused-connection-unit", "neutral-pole", Look.ISOLATOR),
])
def test_contacts_are_drawn_in_the_non_operated_position(
    part: str, contact: str, look: Look
) -> None:
    """IEC 61082-1: without power, nothing worked; so a spring-return valve is shut."""
    elements = {e.key: e for e in inner_sheet(PARTS[part]).circuit.elements}
    assert elements[f"contact-{contact}"].look is look


def test_a_closed_part_says_that_its_inside_is_not_known() -> None:
    plan = inner_plan(inner_sheet(PARTS["closed-wiring-box"]))
    said = [text.words for symbol in of_kind(plan, Symbol) for text in symbol.texts]
    assert "not known" in said
    assert any(symbol.strokes for symbol in of_kind(plan, Symbol) if symbol.kind == "inside")


def test_positions_say_their_times() -> None:
    plan = inner_plan(inner_sheet(PARTS["two-port-valve"]))
    said = " ".join(text.words for s in of_kind(plan, Symbol) for text in s.texts
                    if s.kind == "position")
    assert said == ("valve: shut without power; open while motor (10 to 20 s); back: a few seconds")


@settings(max_examples=40, deadline=None)
@given(parts())
def test_every_id_stands_once_and_the_bytes_are_the_same_again(part: Part) -> None:
    dot = draw_inner(inner_sheet(part))
    ids = re.findall(r' id="([^"]+)"', dot)
    assert len(ids) == len(set(ids))
    assert dot == draw_inner(inner_sheet(part))
