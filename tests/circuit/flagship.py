"""The flagship conversion, read and solved once for all tests that look at it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from generator.checks.subject import JobSubject, Subject, job_subject
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.reader import read_job

RECIPES = Path(__file__).parents[2] / "recipes"
NAME = "electronic-cylinder-to-wireless-two-zone"
WALLS = ("found", "fitted")


@cache
def flagship() -> JobSubject:
    library = Library(RECIPES)
    source = library.source(RECIPES / "conversions" / f"{NAME}.yaml")
    assert isinstance(source.model, Conversion)
    return job_subject(read_job(library, source, source.model))


def system(wall: str) -> Subject:
    """Return the system found or fitted."""
    return {"found": flagship().found, "fitted": flagship().fitted}[wall]
