"""The shape of the signs: what can be asked on site to tell one found system from another."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from generator.recipe.forms import Name, Shape, Text, key


class Question(Shape):
    """One thing to look for, and what may be seen."""

    asks: Text = key("What is asked, in plain words.")
    look: str = key("Where and how it is seen, if the question does not say it.", "")
    when: Literal["before opening", "after opening"] = key(
        "before opening: every cover on. after opening: made dead first.")
    takes: Literal["a look", "a try"] = key(
        "a look, or a try: a control is moved and one waits to see what happens.", "a look")
    answers: dict[Name, Text] = key("What may be seen, each by a name and in words.", min_length=2)


class Signs(Shape):
    """Every question that tells found systems apart."""

    kind: Literal["signs"] = key("signs: what can be asked on site about a found system.")
    questions: dict[Name, Question] = key("Each question by its name.", min_length=1)


NO_SIGNS = Signs.model_construct(kind="signs", questions={})
"""The signs of recipes that have none."""


def _listed(written: object) -> object:
    return (written,) if isinstance(written, str) else written


Answers = Annotated[
    tuple[Name, ...],
    Field(min_length=1),
    BeforeValidator(_listed, json_schema_input_type=Name | tuple[Name, ...]),
]
"""One answer by its name, or a list of those that may be seen."""
