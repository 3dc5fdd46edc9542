"""Reads the flagship conversion from the recipes folder with edits made to its text in memory."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_job, read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.variants import Variant
from generator.recipe.wall import Job, Source, Wall

RECIPES = Path(__file__).parents[2] / "recipes"
CONVERSION = "conversions/electronic-cylinder-to-wireless-two-zone.yaml"
FOUND = "systems/closed-family-two-zones-electronic-cylinder.yaml"
FITTED = "systems/two-zone-wireless-receiver-cylinder-cut-out.yaml"


@dataclass(frozen=True)
class Edit:
    """One change to a recipe: `old` stands in the file exactly once and becomes `new`."""

    file: str
    old: str
    new: str


def link(name: str, start: str, end: str) -> Edit:
    """Return the edit that adds a link to the fitted system."""
    added = f"  {name}: {{from: {start}, to: {end}, does: added}}\n"
    return Edit(FITTED, "\nlinks:\n", f"\nlinks:\n{added}")


def part(line: str) -> Edit:
    """Return the edit that adds a part, written as in the file, to the fitted system."""
    return Edit(FITTED, "\ncables:\n", f"\n  {line}\ncables:\n")


def edited(*edits: Edit) -> Job:
    """Return the flagship conversion with every edit made, in the order given."""
    library = _library(edits)
    source = library.source(RECIPES / CONVERSION)
    assert isinstance(source.model, Conversion)
    return read_job(library, source, source.model)


def edited_system(file: str, *edits: Edit) -> Wall:
    """Return a system of the recipes folder with every edit made, in the order given."""
    library = _library(edits)
    source = library.source(RECIPES / file)
    assert isinstance(source.model, System | Variant)
    return read_wall(library, source)


def _library(edits: tuple[Edit, ...]) -> Library:
    library = Library(RECIPES)
    for file in dict.fromkeys(edit.file for edit in edits):
        text = (RECIPES / file).read_text(encoding="utf-8")
        for edit in edits:
            if edit.file == file:
                assert text.count(edit.old) == 1, f"{file}: {text.count(edit.old)} x {edit.old!r}"
                text = text.replace(edit.old, edit.new)
        document = read_document(f"recipes/{file}", text.encode())
        path = RECIPES / file
        library.read[path] = Source(path.stem, document, shaped(document))
    return library
