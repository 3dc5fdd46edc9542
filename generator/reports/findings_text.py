"""A finding as a person reads it in a terminal: the place, the line, what, why, and what to do."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from textwrap import wrap

from generator.findings import BRINGS, Finding, Place

_GUTTER = 5
_MANY = 3
_SHOWN, _CUT = 100, "..."
"""Characters of a line that are shown on either side of the place, and what stands for the rest."""


def finding_text(finding: Finding) -> str:
    """Return one finding over several lines, without a line end at the last."""
    return "\n".join(_lines(finding))


def _lines(finding: Finding) -> Iterator[str]:
    place = finding.places[0]
    yield f"{place}: {finding.severity}: {finding.rule}: {finding.message}"
    yield from _source(place)
    for word, text in (("found", finding.found), ("expected", finding.expected),
                       ("hint", finding.hint)):
        if text:
            yield f"   {word}: {text}"
    if finding.state:
        yield "   when: " + ", ".join(f"{name} {word}" for name, word in finding.state)
    if finding.path:
        yield "   path: " + " > ".join(finding.path)
    yield from _others(place, finding.places[1:])


def _others(first: Place, others: tuple[Place, ...]) -> Iterator[str]:
    """Yield the further places: one a line, or in one paragraph where a path makes them many."""
    here = [other for other in others if other.file == first.file and other.note != BRINGS]
    if len(here) < _MANY:
        here = []
    for other in others:
        if other not in here:
            yield f"   also {other}" + (f": {other.note}" if other.note else "")
    if here:
        along = ", ".join(f"{other.note} (line {other.line})" if other.note
                          else f"line {other.line}" for other in here)
        yield from wrap(f"along: {along}", 100, initial_indent="   ", subsequent_indent="     ",
                        break_on_hyphens=False, break_long_words=False)


def _source(place: Place) -> Iterator[str]:
    if not place.text.strip():
        return
    before, after = place.text[: place.column - 1], place.text[place.column - 1 :]
    if len(before) > _SHOWN:
        before = _CUT + before[-_SHOWN // 2 :]
    if len(after) > _SHOWN:
        after = after[:_SHOWN] + _CUT
    yield f"{place.line:>{_GUTTER}} | {before}{after}"
    yield f"{'':>{_GUTTER}} | {''.join(map(_blank, before))}^"


def _blank(character: str) -> str:
    """Return what is as wide as a character in a terminal, so that the mark stands under its own.

    Wide and combining characters as in Unicode Standard Annex #11.
    """
    if character == "\t":
        return character
    if unicodedata.combining(character):
        return ""
    return "  " if unicodedata.east_asian_width(character) in ("W", "F") else " "
