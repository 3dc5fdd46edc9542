"""A YAML reader's complaint: where it stopped, and the lines around that place."""

from __future__ import annotations

from dataclasses import dataclass

from generator.findings import Finding, Place, mistake


@dataclass(frozen=True)
class Spot:
    """A line and a column, counted from 0 as YAML readers do."""

    line: int
    column: int


@dataclass(frozen=True)
class Trouble:
    """A reader's complaint: where it stopped, and where what it was reading began."""

    file: str
    lines: list[str]
    problem: str
    context: str
    at: Spot
    began: Spot

    def text(self, spot: Spot) -> str:
        """Return the line at a spot."""
        return self.lines[spot.line] if spot.line < len(self.lines) else ""

    def sign(self, spot: Spot) -> str:
        """Return the character at a spot, or nothing at a line's end."""
        return self.text(spot)[spot.column : spot.column + 1]

    def before(self) -> str:
        """Return what stands on the line before the place where the reader stopped."""
        return self.text(self.at)[: self.at.column]

    def line_above(self) -> Spot:
        """Return the start of the text in the last line above that holds more than a comment."""
        for line in range(min(self.at.line, len(self.lines)) - 1, -1, -1):
            text = self.lines[line].strip()
            if text and not text.startswith("#"):
                return self.start(line)
        return Spot(0, 0)

    def start(self, line: int) -> Spot:
        """Return where the text of a line begins."""
        text = self.lines[line] if line < len(self.lines) else ""
        return Spot(line, len(text) - len(text.lstrip()))

    def place(self, spot: Spot) -> Place:
        """Return a spot as a place that lies inside the file."""
        line = min(spot.line, len(self.lines) - 1)
        text = self.lines[line]
        return Place(self.file, line + 1, min(spot.column, len(text)) + 1, text=text)

    def said(
        self, spot: Spot, message: str, found: str, expected: str, hint: str = ""
    ) -> Finding:
        """Return the finding that says it in plain words, at the spot that must be mended."""
        return mistake("not-yaml", message, self.place(spot), found=found, expected=expected,
                       hint=hint)
