"""Recipes written in memory beside those of the recipes folder."""

from __future__ import annotations

from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.shapes import shaped
from generator.recipe.wall import Source
from tests.checks.edited import RECIPES


def written(library: Library, file: str, text: str) -> Source:
    """Return the recipe in `text`, which stands in the library as `file` from now on."""
    path = RECIPES / file
    document = read_document(f"recipes/{file}", text.encode())
    library.read[path] = Source(path.stem, document, shaped(document))
    return library.source(path)
