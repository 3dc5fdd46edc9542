"""What was made for pages, kept for as long as what it rests on is the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")


@dataclass
class Kept:
    """Things by name, each with what it was made from."""

    made: dict[str, tuple[tuple[object, ...], Any]] = field(default_factory=dict)

    def get(self, name: str, rests_on: tuple[object, ...], make: Callable[[], T]) -> T:
        """Return what was made under a name from the same things, else make it."""
        if name not in self.made or self.made[name][0] != rests_on:
            self.made[name] = (rests_on, make())
        thing: T = self.made[name][1]
        return thing


def stamps(folder: Path) -> tuple[tuple[str, int], ...]:
    """Return the files below a folder with when each was written, in ns."""
    return tuple((str(path), path.stat().st_mtime_ns) for path in sorted(folder.rglob("*.html")))
