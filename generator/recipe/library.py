"""The recipes folder: finds and reads parts, cables, systems and conversions by name, each once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from generator.findings import Finding, Place, Unreadable, mistake, near_miss, one_of
from generator.recipe.forms import NAME, SAID
from generator.recipe.parsing import read_document
from generator.recipe.schema import Cable, Conversion, Part, System
from generator.recipe.shapes import shaped
from generator.recipe.wall import Source

FOLDERS = {"part": "parts", "cable": "parts", "system": "systems", "conversion": "conversions"}
M = TypeVar("M", Part, Cable, System, Conversion)


@dataclass
class Library:
    """Recipes below one folder; each file is read at most once."""

    root: Path
    read: dict[Path, Source | Unreadable] = field(default_factory=dict)

    def files(self, folder: str) -> tuple[Path, ...]:
        """Return the recipe files of `parts`, `systems` or `conversions`, in order."""
        return tuple(sorted((self.root / folder).glob("*.yaml")))

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names that a recipe of this kind may be called by."""
        return tuple(path.stem for path in self.files(FOLDERS[kind]))

    def source(self, path: Path) -> Source:
        """Return the recipe in a file; raises Unreadable with every mistake in it."""
        if path not in self.read:
            self.read[path] = self._read(path)
        known = self.read[path]
        if isinstance(known, Unreadable):
            raise known
        return known

    def _read(self, path: Path) -> Source | Unreadable:
        shown = self.shown(path)
        try:
            document = read_document(shown, path.read_bytes())
            source = Source(path.stem, document, shaped(document))
            mistakes = tuple(self._misplaced(path, source))
            return Unreadable(mistakes) if mistakes else source
        except Unreadable as unreadable:
            return unreadable
        except OSError as error:
            return Unreadable([mistake("no-such-file", "This file cannot be read.",
                                       Place(shown, 1, 1), found=error.strerror or str(error),
                                       expected="a recipe file")])

    def _misplaced(self, path: Path, source: Source) -> Iterator[Finding]:
        """Yield what is wrong with where a recipe stands: its file name and its folder."""
        if not re.match(NAME, path.stem):
            yield mistake(
                "wrong-file-name", "This file name cannot be used as a name.",
                source.place("kind"), found=f"`{path.name}`", expected=SAID[NAME],
                hint="other recipes call this one by its file name: rename the file")
        folder = FOLDERS[source.model.kind]
        if path.parent.parent == self.root and path.parent.name != folder:
            yield mistake(
                "wrong-kind", f"A {source.model.kind} does not belong in this folder.",
                source.place("kind"), found=f"the folder `{path.parent.name}`",
                expected=f"the folder `{folder}`")

    def shown(self, path: Path) -> str:
        """Return how a path is written in messages: from the folder above the recipes."""
        base = self.root.resolve().parent
        resolved = path.resolve()
        return resolved.relative_to(base).as_posix() if resolved.is_relative_to(base) else str(path)

    def named(self, kind: str, name: str, wanted: type[M], place: Place) -> tuple[Source, M]:
        """Return the recipe called `name`, wanted at `place`; raises Unreadable."""
        path = self.root / FOLDERS[kind] / f"{name}.yaml"
        if path not in self.read and not path.is_file():
            raise Unreadable([self._unknown(kind, name, place)])
        source = self.source(path)
        if not isinstance(source.model, wanted):
            raise Unreadable([mistake(
                f"unknown-{kind}", f"`{name}` is not a {kind}.",
                place, source.place("kind").noted("its file says so here"),
                found=f"a {source.model.kind}", expected=f"a {kind}")])
        return source, source.model

    def _unknown(self, kind: str, name: str, place: Place) -> Finding:
        names = [each for each in self.names(kind) if self._is(kind, each)]
        return mistake(
            f"unknown-{kind}", f"There is no {kind} `{name}`.", place,
            found=f"`{name}`", expected=one_of(names[:8])
            + (f" (and {len(names) - 8} more)" if len(names) > 8 else ""),
            hint=near_miss(name, names))

    def _is(self, kind: str, name: str) -> bool:
        """Tell whether a file of the folder holds this kind, as far as it can be read."""
        try:
            return self.source(self.root / FOLDERS[kind] / f"{name}.yaml").model.kind == kind
        except Unreadable:
            return False
