"""Every conversion that ships, in every combination that is offered, read and ordered once."""

from __future__ import annotations

from functools import cache

from generator.checks.subject import job_subject
from generator.recipe.combining import combinations as combined
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.reader import read_combination
from generator.sitework.work import Work, work
from tests.circuit.flagship import RECIPES

LIBRARY = Library(RECIPES)
CONVERSIONS = tuple(path.stem for path in LIBRARY.files("conversions"))


@cache
def combinations(name: str) -> tuple[Work, ...]:
    """Return the work of every combination of a conversion, the usual one first."""
    source = LIBRARY.source(RECIPES / "conversions" / f"{name}.yaml")
    assert isinstance(source.model, Conversion)
    return tuple(work(job_subject(read_combination(LIBRARY, each)))
                 for each in combined(source, source.model) if not each.refused)
