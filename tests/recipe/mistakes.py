"""Reads one recipe file whole, whatever its kind, and says what is wrong with it."""

from pathlib import Path

from generator.findings import Finding, Unreadable, in_order
from generator.recipe.articles import Cable, Part
from generator.recipe.choosing import choice_mistakes
from generator.recipe.combining import combinations
from generator.recipe.conversions import Conversion
from generator.recipe.library import Library
from generator.recipe.parts import part_mistakes
from generator.recipe.reader import read_combination, read_wall
from generator.recipe.systems import System
from generator.recipe.variants import Variant

HERE = Path(__file__).parent
SOUND = HERE / "sound"
RECIPES = HERE.parent.parent / "recipes"


def read_whole(library: Library, path: Path) -> None:
    """Read a recipe and look every name in it up; raises Unreadable and nothing else."""
    source = library.source(path)
    match source.model:
        case System() | Variant():
            read_wall(library, source)
        case Conversion() as conversion:
            if mistakes := tuple(choice_mistakes(source, conversion)):
                raise Unreadable(mistakes)
            for combination in combinations(source, conversion):
                read_combination(library, combination)
        case Part() as part:
            mistakes = tuple(part_mistakes(source, part))
            if mistakes:
                raise Unreadable(mistakes)
        case Cable():
            pass


def mistakes_in(path: Path, root: Path = SOUND) -> tuple[Finding, ...]:
    """Return every mistake in a recipe that is read beside the recipes below `root`."""
    try:
        read_whole(Library(root), path)
    except Unreadable as unreadable:
        return in_order(unreadable.findings)
    return ()
