"""Systems that are met, made of nothing but what is seen of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hypothesis import strategies as st

from generator.recipe.met import AllMet, Met, Start
from generator.recipe.parsing import read_document
from generator.recipe.signs import Question, Signs
from generator.recipe.systems import System
from generator.recipe.wall import Source

Seen = Mapping[str, Sequence[str]]


def question(*answers: str, after: bool = False, tried: bool = False) -> Question:
    return Question(asks="What is seen?", when="after opening" if after else "before opening",
                    takes="a try" if tried else "a look", answers={each: each for each in answers})


def met(questions: Mapping[str, Question], seen: Sequence[Seen], start: bool = True) -> AllMet:
    """Return systems `s0`, `s1`, ... with what is seen of each, each the start of a conversion."""
    return AllMet(Signs(kind="signs", questions=dict(questions)), tuple(
        _met(f"s{i}", each, (Start(f"from-s{i}", "A job"),) if start else ())
        for i, each in enumerate(seen)))


def _met(name: str, seen: Seen, starts: tuple[Start, ...]) -> Met:
    model = System.model_construct(
        kind="system", name=name, stands="found", about="made",
        seen={question: tuple(answers) for question, answers in seen.items()})
    document = read_document(f"{name}.yaml", b"name: made\nseen: {}\n")
    return Met(Source(name, document, model), model, starts)


@st.composite
def made(draw: st.DrawFn, systems: int = 7, questions: int = 6) -> AllMet:
    """Return up to so many systems with random signs, some left open, some of several answers."""
    asked = {
        f"q{i}": question(*"abcd"[:draw(st.integers(2, 4))], after=draw(st.booleans()),
                          tried=draw(st.booleans()))
        for i in range(draw(st.integers(1, questions)))}
    shown = st.fixed_dictionaries({}, optional={
        name: st.lists(st.sampled_from([*each.answers]), min_size=1, max_size=2, unique=True)
        for name, each in asked.items()}).filter(bool)
    return met(asked, draw(st.lists(shown, min_size=1, max_size=systems)))
