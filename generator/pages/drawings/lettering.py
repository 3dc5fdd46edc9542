"""Widths of words and where they break, so that no text runs over a line or another text."""

import re

from generator.pages.drawings.widths import BOLD, REGULAR

BODY = 12
SMALL = 11

_UNKNOWN = 1000  # wider than nearly all letters of the font
_WIDTHS = {
    strong: {letter: width for letters, width in table.items() for letter in letters}
    for strong, table in ((False, REGULAR), (True, BOLD))
}


def width(words: str, size: float = BODY, strong: bool = False) -> float:
    """Width of the words in DejaVu Sans, in the unit of the size."""
    table = _WIDTHS[strong]
    return sum(table.get(letter, _UNKNOWN) for letter in words) * size / 1000


def wrap(words: str, room: float, indent: float = 0, strong: bool = False) -> tuple[str, ...]:
    """Lines no wider than the room, broken after spaces and hyphens, inside a word if need be.

    The first line starts after the indent and stays empty if nothing fits beside it.
    """
    lines = [""]
    for piece in _pieces(words, room, strong):
        left = room - indent if len(lines) == 1 else room
        if width((lines[-1] + piece).rstrip(), strong=strong) <= left:
            lines[-1] += piece
        else:
            lines.append(piece)
    shown = [line.strip() for line in lines]
    return tuple(shown if shown[0] or indent else shown[1:] or [""])


def longest(words: str, strong: bool = False) -> float:
    """Width of the longest piece that does not break of itself."""
    return max((width(piece.rstrip(), strong=strong) for piece in _broken(words)), default=0)


def _pieces(words: str, room: float, strong: bool) -> list[str]:
    """Words with what follows them; a word wider than the room comes letter by letter."""
    parted = (
        [piece] if width(piece.rstrip(), strong=strong) <= room else list(piece)
        for piece in _broken(words)
    )
    return [piece for pieces in parted for piece in pieces]


def _broken(words: str) -> list[str]:
    return [piece for piece in re.findall(r"[^ -]*[ -]*", " ".join(words.split())) if piece]
