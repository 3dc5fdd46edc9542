"""One place where a document does not fit its shape."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generator.findings import Place
from generator.recipe.document import Document, Path


@dataclass(frozen=True)
class Misfit:
    """One place where a document does not fit; `rule` is the validating library's word for it."""

    document: Document
    path: Path
    at_key: bool
    rule: str
    found: Any
    context: dict[str, Any]

    @property
    def place(self) -> Place:
        """Where it stands: the value, or the key where the key is wrong."""
        if self.path and (self.at_key or self.found is None):
            return self.document.key_place(*self.path)
        return self.document.place(*self.path)

    @property
    def in_list(self) -> bool:
        """Whether it is an entry of a list, and has a number instead of a key."""
        return isinstance(next(reversed(self.path), ""), int)

    @property
    def last(self) -> str:
        """The key or the number at the end of its path."""
        return str(self.path[-1]) if self.path else ""


def called(path: Path) -> str:
    """Return how an engineer would call the place at `path`."""
    if not path:
        return "the recipe"
    if isinstance(path[-1], int):
        return f"entry {path[-1] + 1} of `{path[-2]}`" if len(path) > 1 else f"entry {path[-1] + 1}"
    return f"`{path[-1]}:`"


def short(text: str) -> str:
    """Return a text on one line, cut where it is long."""
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:57] + "..."
