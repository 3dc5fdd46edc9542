"""The one file of signs, and what a system says of itself in them."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, mistake
from generator.recipe.library import Library
from generator.recipe.parts import unknown
from generator.recipe.signs import NO_SIGNS, Signs
from generator.recipe.systems import System
from generator.recipe.wall import Source

NAME = "on-the-wall"
"""What that file is called, without .yaml."""


def read_signs(library: Library) -> Signs:
    """Return the questions that can be asked on site; raises Unreadable."""
    path = library.root / "signs" / f"{NAME}.yaml"
    if not path.is_file():
        return NO_SIGNS
    model = library.source(path).model
    return model if isinstance(model, Signs) else NO_SIGNS


def signs_mistakes(source: Source) -> Iterator[Finding]:
    """Yield that a file of signs has a name under which nobody looks for it."""
    if source.name != NAME:
        yield mistake(
            "wrong-file-name", "Nobody looks for signs under this name.", source.place("kind"),
            found=f"`{source.name}.yaml`", expected=f"`signs/{NAME}.yaml`",
            hint="one file holds the questions for every system")


def seen_mistakes(source: Source, system: System, signs: Signs) -> Iterator[Finding]:
    """Yield every question and every answer in `seen` that the signs do not have."""
    for name, answers in system.seen.items():
        question = signs.questions.get(name)
        if question is None:
            yield unknown("question", name, signs.questions, source.key_place("seen", name),
                          f"`signs/{NAME}.yaml`")
            continue
        for at, answer in enumerate(answers):
            if answer not in question.answers:
                yield unknown("answer", answer, question.answers, source.place("seen", name, at),
                              f"The question `{name}`")
