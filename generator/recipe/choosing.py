"""Checks that the choices of a conversion speak of what it holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from generator.findings import Finding, mistake
from generator.recipe.choices import NotOffered, Together
from generator.recipe.combining import combinations
from generator.recipe.conversions import Conversion
from generator.recipe.document import Path
from generator.recipe.parts import unknown
from generator.recipe.wall import Source


def choice_mistakes(source: Source, conversion: Conversion) -> Iterator[Finding]:
    """Yield every name in the choices of a conversion that names nothing."""
    for choice, each in conversion.choices.items():
        for name, option in each.options.items():
            path = ("choices", choice, "options", name, "leaves-out")
            yield from _left_out(source, path, "goes", option.leaves_out.goes, conversion.goes)
            cases = [case.name for case in conversion.expect]
            yield from _left_out(source, path, "expect", option.leaves_out.expect, cases)
    yield from _unknown_options(source, conversion, "not-offered", conversion.not_offered)
    yield from _unknown_options(source, conversion, "together", conversion.together)
    yield from _usual_refused(source, conversion)


def _left_out(
    source: Source, path: Path, where: str, names: tuple[str, ...], known: Iterable[str]
) -> Iterator[Finding]:
    known = tuple(known)
    for i, name in enumerate(names):
        if name not in known:
            yield unknown("name", name, known, source.place(*path, where, i),
                          f"`{where}:` of this conversion", "entry")


def _unknown_options(
    source: Source, conversion: Conversion, where: str, meant: Sequence[NotOffered | Together]
) -> Iterator[Finding]:
    for i, each in enumerate(meant):
        for choice, option in each.when.items():
            at = (where, i, "when", choice)
            if choice not in conversion.choices:
                yield unknown("choice", choice, conversion.choices, source.key_place(*at),
                              "This conversion")
            elif option not in conversion.choices[choice].options:
                yield unknown("option", option, conversion.choices[choice].options,
                              source.place(*at), f"`{choice}`")


def _usual_refused(source: Source, conversion: Conversion) -> Iterator[Finding]:
    if conversion.choices and (usual := combinations(source, conversion)[0]).refused:
        yield mistake(
            "usual-not-offered", "The first option of every choice together is not offered.",
            usual.refusal_place("when"), found="the first option of each choice",
            expected="another combination",
            hint="put another option first")
