"""From a complaint to the fault: whatever is wrong, the questions end at it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from generator.checks.subject import Subject, subject
from generator.recipe.costs import USUAL, Costs
from generator.recipe.library import Library
from generator.recipe.reader import read_wall
from generator.recipe.systems import System
from generator.sitework.coverage import coverage
from generator.sitework.finder.choice import End, Tree
from generator.sitework.finder.searches import Finder, Search, finder
from tests.circuit.flagship import RECIPES, flagship
from tests.sitework.person import Person, ends

SYSTEMS = tuple(sorted(path.stem for path in Path(RECIPES, "systems").glob("*.yaml")))
ALLOWED = 1.0
"""Measurements above the entropy bound that are allowed in the mean; a goal of the project."""


def system(name: str) -> Subject:
    library = Library(RECIPES)
    source = library.source(RECIPES / "systems" / f"{name}.yaml")
    assert isinstance(source.model, System)
    return subject(read_wall(library, source, source.model))


@cache
def of_system(name: str) -> Finder:
    read = system(name)
    return finder(read, coverage(read))


@cache
def of_flagship(costs: Costs = USUAL) -> Finder:
    job = flagship()
    return finder(job.fitted, coverage(job.fitted), job.job.conversion.expect, costs)


def searches(found: Finder) -> list[tuple[Search, int]]:
    """Return each search with each suspect that gives its complaint."""
    return [(search, number) for search in found.searches
            for number, _ in enumerate(found.suspects) if search.complaint.suspects >> number & 1]


def holding(end: End) -> set[int]:
    return {number for group in end.classes for number in group}


def depth(tree: Tree, person: Person) -> int:
    """Return the most measurements a person may make."""
    if isinstance(tree, End):
        return 0
    given = person.answers(tree.measurement)
    return 1 + max(depth(then, person) for says, then in tree.answers if says in given)


@pytest.mark.parametrize("name", [None, *SYSTEMS])
def test_every_fault_is_found_and_with_any_one_measurement_left_out(name: str | None) -> None:
    found = of_system(name) if name else of_flagship()
    for search, number in searches(found):
        person = Person(found.ground, found.suspects[number].fault)
        for failing in range(1 + depth(search.tree, person)):
            for end in ends(search.tree, person, failing):
                assert number in holding(end), (
                    search.complaint.words, found.suspects[number].fault.words, failing)
