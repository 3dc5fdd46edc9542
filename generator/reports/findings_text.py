"""A finding as a person reads it in a terminal: the place, the line, what, why, and what to do."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, Place

_GUTTER = 5


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
    for other in finding.places[1:]:
        yield f"   also {other}" + (f": {other.note}" if other.note else "")


def _source(place: Place) -> Iterator[str]:
    if not place.text.strip():
        return
    # A tab is kept as a tab, so that the mark stands under its character.
    lead = "".join("\t" if c == "\t" else " " for c in place.text[: place.column - 1])
    yield f"{place.line:>{_GUTTER}} | {place.text}"
    yield f"{'':>{_GUTTER}} | {lead}^"
