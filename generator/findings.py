"""The words all rooms share: a place in a file, and a finding about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import StrEnum

BRINGS = "this change brings it"
"""The note on the place of a change without which a finding would be gone."""


class Severity(StrEnum):
    """How bad a finding is: an error stops publication, a warning is a finding too."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, order=True)
class Place:
    """A spot in a file; line and column count from 1, `text` is the whole source line."""

    file: str
    line: int
    column: int
    note: str = ""
    text: str = ""

    def noted(self, note: str) -> Place:
        """Return the same spot with a word on what it has to do with the finding."""
        return replace(self, note=note)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong: where, in which state, along which path, and what to do."""

    rule: str
    severity: Severity
    message: str
    places: tuple[Place, ...]
    found: str = ""
    expected: str = ""
    hint: str = ""
    state: tuple[tuple[str, str], ...] = ()
    path: tuple[str, ...] = ()


class Unreadable(Exception):
    """Files that could not be understood; `findings` says every mistake in them."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = in_order(findings)
        super().__init__(f"{len(self.findings)} mistakes")


def mistake(
    rule: str, message: str, *places: Place, found: str = "", expected: str = "", hint: str = ""
) -> Finding:
    """Return an error that can be seen in the files alone, whatever the state."""
    return Finding(rule, Severity.ERROR, message, places, found, expected, hint)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings sorted by place, then rule, then message, each once."""
    return tuple(sorted(dict.fromkeys(findings), key=_reading_order))


def _reading_order(finding: Finding) -> tuple[tuple[Place, ...], str, str]:
    return finding.places, finding.rule, finding.message


def near_miss(word: str, known: Iterable[str]) -> str:
    """Return "did you mean `x`?" for the nearest known word, or nothing."""
    meant = nearest(word, known)
    return f"did you mean `{meant}`?" if meant else ""


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that was probably meant, or nothing.

    Numbers have none: terminal 3 is no likelier than terminal 1 where 13 was written.
    """
    if word.isdigit():
        return ""
    return next(iter(get_close_matches(word, sorted(known), n=1, cutoff=0.6)), "")


def one_of(words: Iterable[str]) -> str:
    """Return what is allowed, for `expected`: one of several words, or the only one."""
    words = tuple(words)
    return f"one of {listed(words)}" if len(words) > 1 else f"only {listed(words)}"


def listed(words: Iterable[str], last: str = "or") -> str:
    """Return `a`, `b` or `c`, for a message."""
    quoted = [f"`{word}`" for word in words]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {last} {quoted[-1]}"
