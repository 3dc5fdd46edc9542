"""A cable is added by copying the one above it and changing designation and terminals."""

import re

from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_wall
from generator.recipe.shapes import shaped
from generator.recipe.wall import Source
from tests.recipe.mistakes import RECIPES

STANDARD = RECIPES / "systems" / "two-zone-wireless-receiver-cylinder-cut-out.yaml"


def with_last_cable_copied(text: str) -> tuple[str, str, str]:
    """Return the recipe with the copy, the designation copied and the one it was given."""
    cables = re.search(r"^cables:\n((?: .*\n)+)", text, re.MULTILINE)
    last = re.split(r"(?m)^(?=  W\d+:$)", cables[1])[-1]
    old = re.match(r"  (W\d+):", last)[1]
    new = f"W{max(int(number) for number in re.findall(r'^  W([0-9]+):', text, re.MULTILINE)) + 1}"
    copy = re.sub(r"E1:[\w-]+", "X1:10", last.replace(f"{old}:", f"{new}:", 1))
    return text[:cables.end()] + copy + text[cables.end():], old, new


def test_a_copied_cable_reads_without_mistakes():
    text, old, new = with_last_cable_copied(STANDARD.read_text(encoding="utf-8"))
    library = Library(RECIPES)
    document = read_document(library.shown(STANDARD), text.encode())
    source = Source(STANDARD.stem, document, shaped(document))
    wall = read_wall(library, source)
    assert list(wall.cables)[-2:] == [old, new]
    assert wall.cables[new].cable == wall.cables[old].cable
    copied, first = (wall.cables[name].laid.cores for name in (new, old))
    assert list(copied) == list(first)
    assert {core.to for core in copied.values()} <= {"X1:10", None}
    assert copied != first
