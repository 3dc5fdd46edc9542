"""Every system that ships, read and solved once, with its faults and trials."""

from __future__ import annotations

from functools import cache

from generator.checks.subject import Subject, subject
from generator.recipe.library import Library
from generator.recipe.reader import read_wall
from generator.recipe.systems import System
from generator.recipe.variants import Variant
from generator.sitework.coverage import Coverage, coverage
from generator.sitework.trials import Trials, trials
from tests.circuit.flagship import RECIPES

LIBRARY = Library(RECIPES)
SYSTEMS = tuple(path.stem for path in LIBRARY.files("systems"))


@cache
def shipped(name: str) -> Subject:
    source = LIBRARY.source(RECIPES / "systems" / f"{name}.yaml")
    assert isinstance(source.model, System | Variant)
    return subject(read_wall(LIBRARY, source))


@cache
def covered(name: str) -> Coverage:
    return coverage(shipped(name))


@cache
def tried(name: str) -> Trials:
    return trials(shipped(name), covered(name))
