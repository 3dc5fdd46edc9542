"""What is wrong with the quotation marks around a line that no YAML reader understands."""

from __future__ import annotations

import re

from generator.findings import Finding
from generator.recipe.trouble import Spot, Trouble

_OPENING = re.compile(r"(?<![^\s\[{,])[\"']")
_CLOSED = re.compile(r"(?<![^\s\[{,])(?:\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*')")


def open_quote(trouble: Trouble) -> Finding | None:
    """Return that a text in quotes has no end."""
    if "quoted scalar" not in trouble.context or "found unexpected" not in trouble.problem:
        return None
    return _never_closed(trouble, trouble.began)


def quote_above(trouble: Trouble) -> Finding | None:
    """Return that a mark which opens a text here closed one left open on a line above."""
    before = trouble.before().rstrip()
    if not before or not _OPENING.match(before, len(before) - 1):
        return None
    for line in range(trouble.at.line - 1, -1, -1):
        text = _CLOSED.sub(lambda closed: " " * len(closed[0]), trouble.lines[line])
        found = _OPENING.search(text)
        if found and found[0] == before[-1]:
            return _never_closed(trouble, Spot(line, found.start()))
    return None


def _never_closed(trouble: Trouble, spot: Spot) -> Finding:
    sign = trouble.sign(spot)
    return trouble.said(spot, "This quotation mark is never closed.",
                        f"`{sign}` once", f"a second `{sign}` at the end of the text")


def backslash(trouble: Trouble) -> Finding | None:
    """Return that a backslash says nothing in double quotes."""
    if "escape" not in trouble.problem and "expected escape" not in trouble.problem:
        return None
    column = trouble.text(trouble.at).rfind("\\", 0, trouble.at.column + 1)
    return trouble.said(Spot(trouble.at.line, max(column, 0)),
                        "A backslash cannot stand in a text with double quotes.", "`\\`",
                        "a text without it", "put the text in single quotes instead: `'text'`")


def after_quote(trouble: Trouble) -> Finding:
    """Return that a text in quotes ended too early."""
    mark = trouble.before().rstrip()[-1]
    hint = ("put the whole text in double quotes; in single quotes an apostrophe ends the text"
            if mark == "'" else "put the closing quotation mark at the very end of the text")
    return trouble.said(trouble.at, "Text follows after the closing quotation mark.",
                        f"text after `{mark}`", "nothing more on this line", hint)
