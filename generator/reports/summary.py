"""The last line of a check: how much was read, judged and found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Tally:
    """What a run came to.

    `unread` files hold mistakes; `unjudged` ones use a file that does. `waits_for` are systems to
    be mended before their conversions are judged whole; `unmet` rules whose premise never occurs.
    """

    read: int
    unread: int
    unjudged: int
    findings: int
    asked: bool
    waits_for: tuple[str, ...]
    unmet: tuple[str, ...]


def summary(tally: Tally, long: bool = False) -> str:
    """Return the line; `long` names the rules that were never met too."""
    return "; ".join(_words(tally, long)) + "."


def _words(tally: Tally, long: bool) -> Iterator[str]:
    yield f"{_counted(tally.read, 'recipe')} read"
    if tally.unread:
        yield f"{tally.unread} not read"
    if tally.unjudged:
        yield f"{tally.unjudged} not judged until what they use can be read"
    yield _counted(tally.findings, "finding")
    for system in tally.waits_for:
        yield f"conversion not judged until {system} is mended"
    if tally.read and not tally.asked:
        yield "no rule was asked: nothing that rules are about uses this"
    if long and tally.unmet:
        yield "rules whose premise never occurs here: " + ", ".join(tally.unmet)


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
