"""Columns of a circuit drawing: where their lines run and where words stand beside them."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.drawings.lettering import BODY, wrap
from generator.pages.drawings.plan import Text

LINE = 15
"""From one line of text to the next."""
RING = 3.0
"""Radius of a terminal."""
_AXIS = 12
_BESIDE = 13
_REACH = 10  # what a symbol takes to the left of its line
WIDTH = 360.0
"""Of a phone, and of every drawing."""
EDGE = 4.0
"""White at both sides."""
_WIDEST = 170.0


def step(columns: int) -> float:
    """Return the width of each of so many columns."""
    return min(_WIDEST, (WIDTH - 2 * EDGE) / columns)


def room(columns: int) -> float:
    """Return the width for words beside a line where so many columns stand side by side."""
    return step(columns) - _BESIDE - _REACH


@dataclass(frozen=True)
class Grid:
    """Columns of one width from a left edge."""

    left: float
    step: float

    def axis(self, column: int) -> float:
        """Return where the line of a column runs."""
        return self.left + _AXIS + self.step * column

    def room(self, columns: int = 1) -> float:
        """Return the width for words beside a line, up to the symbols of the next column."""
        return self.step * columns - _BESIDE - _REACH

    def lines(self, words: str, columns: int = 1, strong: bool = False) -> tuple[str, ...]:
        """Return words in lines that fit beside a line."""
        return wrap(words, self.room(columns), strong=strong) if words else ()

    def beside(
        self, column: int, y: float, lines: tuple[str, ...], strong: int = 0
    ) -> tuple[Text, ...]:
        """Return lines beside a column, the middle of the first at y, the first few in bold."""
        x = self.axis(column) + _BESIDE
        return tuple(Text(x, y + LINE * place, words, "l", BODY, strong=place < strong)
                     for place, words in enumerate(lines))
