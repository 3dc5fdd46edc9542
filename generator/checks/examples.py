"""Small wirings on a rule's page: each is shown to the reader and run by the tests."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

FENCE = re.compile(r"^```wiring (faulty|mended)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
MARK = re.compile(r"#\s*found( here)?(?::\s*(.*\S))?\s*$")
HEADERS = {
    "system": "kind: system\nname: a small wiring\nstands: standard\nabout: an example\n",
    "found": "kind: system\nname: a small wiring\nstands: found\nabout: an example\n",
    "conversion": "kind: conversion\nname: a small job\nabout: an example\n"
                  "found: found\nfitted: fitted\n"
                  "fits: {needs: [a], not-with: [{found: b, then: c}], look: [d]}\n"
                  "owner: {changed: a, use: [b], no-heat: [c], call: d}\n"
                  "revision: {number: 1, date: \"2026-11-25\", written-by: a, changed: b}\n",
}
"""What every example would repeat; the page leaves it out."""


@dataclass(frozen=True)
class Example:
    """One fence: whether it is faulty, its text, and what its comments say must be found.

    `marks` holds, by line from 1, words that must stand in the message of a finding there; a
    finding belongs to every line that one of its places stands on. On the lines of `first` it
    stands first of all: `# found here` rather than `# found`.
    """

    faulty: bool
    text: str
    marks: dict[int, str]
    first: frozenset[int]

    @property
    def sections(self) -> tuple[str, ...]:
        """One system; or for a rule about conversions: found, fitted and conversion."""
        return tuple(self.text.split("---\n"))


def page(rule_name: str) -> Path:
    """Return the file of a rule's page, which lies beside its module."""
    return Path(__file__).parent / "rules" / f"{rule_name.replace('-', '_')}.md"


def examples(text: str) -> tuple[Example, ...]:
    """Return the examples on a rule's page."""
    return tuple(_example(kind == "faulty", body) for kind, body in FENCE.findall(text))


def _example(faulty: bool, body: str) -> Example:
    marks = {number: mark for number, line in enumerate(body.splitlines(), 1)
             if (mark := MARK.search(line))}
    return Example(
        faulty, body, {number: mark.group(2) or "" for number, mark in marks.items()},
        frozenset(number for number, mark in marks.items() if mark.group(1)))
