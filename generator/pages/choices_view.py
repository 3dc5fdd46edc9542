"""The choices of a conversion page: which other page each other answer leads to, or why to none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.judging.judged import Refusal
from generator.recipe.wall import Job


@dataclass(frozen=True)
class Answer:
    """One option: this page's own, one with a page of its own, or one that is not offered."""

    says: str
    here: bool
    page: str
    refusal: Refusal | None


@dataclass(frozen=True)
class Asked:
    """One choice with the answers to it, all other choices being as on this page."""

    asks: str
    answers: tuple[Answer, ...]


def choices_view(
    job: Job, family: Iterable[Job], refusals: Iterable[Refusal]
) -> tuple[Asked, ...]:
    """Return the choices of a conversion; `family` are its offered combinations, this one too."""
    pages = {tuple(each.options.items()): each.name for each in family}
    refused = {tuple(each.options.items()): each for each in refusals}
    return tuple(
        Asked(choice.asks, tuple(_answers(job, name, pages, refused)))
        for name, choice in job.conversion.choices.items())


def _answers(
    job: Job, choice: str, pages: dict[tuple[tuple[str, str], ...], str],
    refused: dict[tuple[tuple[str, str], ...], Refusal],
) -> Iterator[Answer]:
    for name, option in job.conversion.choices[choice].options.items():
        options = tuple({**job.options, choice: name}.items())
        here = job.options[choice] == name
        yield Answer(option.says, here, pages.get(options, ""), refused.get(options))
