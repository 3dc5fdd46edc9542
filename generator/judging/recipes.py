"""Holds one recipe against every rule that is about its kind, in every combination it has."""

from __future__ import annotations

from collections.abc import Iterable

from generator.findings import Finding, Unreadable
from generator.judging.combined import judged_combinations
from generator.judging.judged import Judged
from generator.judging.systems import judged_system
from generator.recipe.articles import Part
from generator.recipe.conversions import Conversion
from generator.recipe.costs import Costs
from generator.recipe.costs_file import costs_mistakes
from generator.recipe.library import Library
from generator.recipe.parts import part_mistakes
from generator.recipe.signs import Signs
from generator.recipe.signs_file import signs_mistakes
from generator.recipe.standing import standing
from generator.recipe.systems import System
from generator.recipe.variants import Variant
from generator.recipe.wall import Source


def judge(library: Library, source: Source) -> tuple[Judged, ...]:
    """Return a recipe with what the rules say of it; raises Unreadable.

    A conversion comes once for each combination of its choices that is offered, the usual first.
    """
    match source.model:
        case System() | Variant():
            return (judged_system(library, standing(library, source)),)
        case Conversion() as conversion:
            return judged_combinations(library, source, conversion)
        case Part() as part:
            _refuse(part_mistakes(source, part))
        case Costs():
            _refuse(costs_mistakes(source))
        case Signs():
            _refuse(signs_mistakes(source))
    return (Judged(source, None, ()),)


def _refuse(mistakes: Iterable[Finding]) -> None:
    if said := tuple(mistakes):
        raise Unreadable(said)
