"""Holds one recipe against every rule that is about its kind, in every combination it has."""

from __future__ import annotations

from collections.abc import Iterable

from generator.checks.subject import subject
from generator.findings import Finding, Unreadable
from generator.judging.asking import system_verdicts
from generator.judging.combined import judged_combinations
from generator.judging.judged import Judged
from generator.judging.tracing import Again, traced, traced_verdicts
from generator.recipe.articles import Part
from generator.recipe.conversions import Conversion
from generator.recipe.costs import Costs
from generator.recipe.costs_file import costs_mistakes
from generator.recipe.edits import Edit
from generator.recipe.library import Library
from generator.recipe.parts import part_mistakes
from generator.recipe.reader import looked_up
from generator.recipe.signs import Signs
from generator.recipe.signs_file import signs_mistakes
from generator.recipe.standing import Standing, standing
from generator.recipe.systems import System
from generator.recipe.variants import Variant
from generator.recipe.wall import Source


def judge(library: Library, source: Source) -> tuple[Judged, ...]:
    """Return a recipe with what the rules say of it; raises Unreadable.

    A conversion comes once for each combination of its choices that is offered, the usual first.
    """
    match source.model:
        case System() | Variant():
            return (_system(library, standing(library, source)),)
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


def _system(library: Library, stands: Standing) -> Judged:
    again = _again(library, stands)
    try:
        judged = _judged(library, stands)
    except Unreadable as unreadable:
        raise Unreadable(traced(unreadable.findings, stands.edits, again)) from None
    verdicts = traced_verdicts(judged.verdicts, stands.edits, again)
    return Judged(judged.source, judged.subject, verdicts)


def _judged(library: Library, stands: Standing, without: Edit | None = None) -> Judged:
    system = subject(looked_up(library, stands.read(without)))
    return Judged(system.wall.source, system, system_verdicts(system))


def _again(library: Library, stands: Standing) -> Again:
    def again(edit: Edit) -> tuple[Finding, ...]:
        try:
            return _judged(library, stands, edit).findings
        except Unreadable as unreadable:
            return unreadable.findings

    return again
