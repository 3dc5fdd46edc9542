"""What a rule is: a named fault, what it rests on, and the question put to a subject."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Generic, TypeVar

from generator.checks.subject import JobSubject, Subject
from generator.findings import Finding, Severity, in_order
from generator.recipe.met import AllMet

S = TypeVar("S", Subject, JobSubject, AllMet)


class Known(StrEnum):
    """How a rule's basis is known."""

    PUBLISHED = "published"
    PRACTICE = "common practice, no source"
    MEMORY = "from memory"


@dataclass(frozen=True)
class Basis:
    """What a rule rests on: a published source with its clause, practice, or memory."""

    known: Known
    text: str


@dataclass(frozen=True)
class Verdict:
    """What came out: how many cases were asked about, of what, and what was found.

    With none asked about the premise never occurs, and the rule says nothing about this subject.
    """

    asked: int
    of: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class Rule(Generic[S]):
    """A fault with its one name; `judge` looks for it."""

    name: str
    fault: str
    severity: Severity
    basis: tuple[Basis, ...]
    judge: Callable[[S], Verdict]

    @property
    def page(self) -> Path:
        """The file of its page, which lies beside its module."""
        return Path(self.judge.__code__.co_filename).with_suffix(".md")


def verdict(asked: int, of: str, findings: Iterable[Finding]) -> Verdict:
    """Return a verdict with its findings in order."""
    return Verdict(asked, of, in_order(findings))


def count(table: int) -> int:
    """Return in how many states a table holds."""
    return table.bit_count()
