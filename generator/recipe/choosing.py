"""Checks that the choices of a conversion speak of what it holds."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, mistake
from generator.recipe.combining import combinations
from generator.recipe.conversions import Conversion
from generator.recipe.parts import unknown
from generator.recipe.wall import Source


def choice_mistakes(source: Source, conversion: Conversion) -> Iterator[Finding]:
    """Yield every name in the choices of a conversion that names nothing."""
    known = {"goes": list(conversion.goes), "expect": [e.name for e in conversion.expect]}
    for choice, each in conversion.choices.items():
        for name, option in each.options.items():
            for where in known:
                for i, left in enumerate(getattr(option.leaves_out, where)):
                    if left not in known[where]:
                        place = source.place(
                            "choices", choice, "options", name, "leaves-out", where, i)
                        yield unknown("name", left, known[where], place, "This conversion",
                                      f"entry of `{where}:` called so")
    yield from _not_offered(source, conversion)


def _not_offered(source: Source, conversion: Conversion) -> Iterator[Finding]:
    for i, refused in enumerate(conversion.not_offered):
        for choice, option in refused.when.items():
            at = ("not-offered", i, "when", choice)
            if choice not in conversion.choices:
                yield unknown("choice", choice, conversion.choices, source.key_place(*at),
                              "This conversion")
            elif option not in conversion.choices[choice].options:
                yield unknown("option", option, conversion.choices[choice].options,
                              source.place(*at), f"`{choice}`")
    if conversion.choices and (usual := combinations(source, conversion)[0]).refused:
        yield mistake(
            "usual-not-offered", "The first option of every choice together is not offered.",
            usual.refusal_place("when"), found="the first option of each choice",
            expected="another combination",
            hint="put another option first")
