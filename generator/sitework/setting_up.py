"""Joining and setting up: what comes after the safety tests, and what waits for the last test."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.recipe.wall import Job
from generator.recipe.words import SetUp
from generator.sitework.live_tests import LiveTest

JoiningSteps = tuple[tuple[str, str, tuple[str, ...]], ...]
"""Designation of a part, what people call it, and how its maker wants it joined."""


NOT_YET = (
    "Nothing is joined or set up before the last safety test: until then calls are made by boost, "
    "or with that one room thermostat joined alone.",
    "Called away before it: every supply off, fuse out, locked.",
)
"""What is said before the first test where something is set up after them."""


def last_safety(tests: Sequence[LiveTest]) -> int:
    """Return the number of the last safety test, from 1; 0 where there is none."""
    return max((number for number, test in enumerate(tests, 1) if test.safety), default=0)


def before_the_tests(steps: Sequence[SetUp]) -> tuple[SetUp, ...]:
    """Return what is done once the safety tests are passed."""
    return tuple(step for step in steps if not step.after_the_tests)


def after_the_tests(steps: Sequence[SetUp]) -> tuple[SetUp, ...]:
    """Return what would disturb a test, as clocks and heads do."""
    return tuple(step for step in steps if step.after_the_tests)


def joining(job: Job) -> JoiningSteps:
    """Return how each new control is joined; one that stays has been joined long ago."""
    return tuple(_joining(job))


def _joining(job: Job) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    for name, part in job.fitted.parts.items():
        if part.part.joining and name not in job.found.parts:
            yield name, part.called, part.part.joining
