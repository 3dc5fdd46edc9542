"""What was judged, kept for as long as no file that it rests on changes."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from generator.judging.judged import Judged
from generator.judging.recipes import judge
from generator.recipe.library import Library
from generator.recipe.wall import Source

Digests = tuple[tuple[str, str], ...]
"""Files and what is in them, as a digest."""


@dataclass
class Memory:
    """Judges as `judge` does; what has not changed since is not judged again."""

    kept: dict[str, tuple[Digests, tuple[Judged, ...]]] = field(default_factory=dict)

    def __call__(self, library: Library, source: Source) -> tuple[Judged, ...]:
        """Return a recipe with what the rules say of it; raises Unreadable."""
        file = source.document.file
        now = _digests(library, library.root.parent / file)
        before, judged = self.kept.get(file, ((), ()))
        if before != now:
            judged = judge(library, source)
            self.kept[file] = (now, judged)
        return judged


def _digests(library: Library, path: Path) -> Digests:
    sources = map(library.source, library.rests_on(path))
    return tuple((source.document.file, source.document.digest) for source in sources)
