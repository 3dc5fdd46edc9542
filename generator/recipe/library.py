"""The recipes folder: finds and reads parts, cables, systems and conversions by name, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from generator.findings import Finding, Place, Unreadable, mistake, near_miss, one_of
from generator.recipe.articles import Cable, Part
from generator.recipe.conversions import Conversion
from generator.recipe.document import Document
from generator.recipe.folders import FOLDERS, files_below, folder_of, misplaced, stray
from generator.recipe.parsing import read_document
from generator.recipe.schema import Model, used_by
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source

M = TypeVar("M", Part, Cable, System, Conversion)
_SERVES_AS = {"variant": "system"}
"""What another kind of recipe is read as."""


@dataclass
class Library:
    """Recipes below one folder; each file is read at most once."""

    root: Path
    read: dict[Path, Source | Unreadable] = field(default_factory=dict)

    def files(self, folder: str) -> tuple[Path, ...]:
        """Return the recipe files of `parts`, `systems` or `conversions`, in order."""
        return tuple(sorted((self.root / folder).glob("*.yaml")))

    def below(self, folder: Path) -> tuple[Path, ...]:
        """Return every file below a folder, recipes first and in the order in which they build up.

        Of a folder that holds the recipes folder, only what is in that.
        """
        within = folder.resolve() in self.root.resolve().parents
        return files_below(self.root, self.root if within else folder)

    def users(self, name: str) -> tuple[Path, ...]:
        """Return the systems that use a part or cable, and the conversions that use those.

        A file that cannot be read is among them where it holds the name.
        """
        systems: dict[str, Path] = {}
        # A variant rests on a system, and another variant on it.
        while more := {path.stem: path for path in self.files("systems")
                       if path.stem not in systems and self._uses(path, [name, *systems])}:
            systems |= more
        conversions = (path for path in self.files("conversions") if self._uses(path, [*systems]))
        return (*sorted(systems.values()), *conversions)

    def _uses(self, path: Path, names: Sequence[str]) -> bool:
        content = path.read_bytes()
        if not any(name.encode() in content for name in names):
            return False
        try:
            return not used_by(self.source(path).model).isdisjoint(names)
        except Unreadable:
            return True

    def rests_on(self, path: Path) -> tuple[Path, ...]:
        """Return a file and every file that it uses, at once or by way of others, in order.

        Raises Unreadable with the mistakes of the first that cannot be read.
        """
        met: dict[Path, None] = {}
        open_ends = [path]
        while open_ends:
            if (each := open_ends.pop()) not in met:
                met[each] = None
                open_ends += self._used_by(each)
        return tuple(sorted(met))

    def _used_by(self, path: Path) -> list[Path]:
        names = used_by(self.source(path).model)
        return [file for folder in FOLDERS for file in self.files(folder) if file.stem in names]

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names that a recipe of this kind may be called by."""
        return tuple(path.stem for path in self.files(folder_of(kind)))

    def source(self, path: Path) -> Source:
        """Return the recipe in a file; raises Unreadable with every mistake in it."""
        if path not in self.read:
            self.read[path] = self._read(path)
        known = self.read[path]
        if isinstance(known, Unreadable):
            raise known
        return known

    def _read(self, path: Path) -> Source | Unreadable:
        first = Place(self.shown(path), 1, 1)
        try:
            _refuse(stray(self.root, path, first))
            document = read_document(first.file, path.read_bytes())
            _refuse(misplaced(self.root, path, document))
            return Source(path.stem, document, self._shaped(document))
        except Unreadable as unreadable:
            return unreadable
        except OSError as error:
            return Unreadable([mistake(
                "no-such-file", "This file cannot be read.", first,
                found=error.strerror or str(error), expected="a recipe file")])

    def _shaped(self, document: Document) -> Model:
        """Return what a document holds; with its misfits come the parts and cables that are not."""
        try:
            return shaped(document)
        except Unreadable as misfits:
            raise Unreadable([*misfits.findings, *self._missing(document)]) from None

    def _missing(self, document: Document) -> Iterator[Finding]:
        """Yield each part and cable named in a document of any shape that has no file."""
        for group, kind in (("parts", "part"), ("cables", "cable")):
            placed = document.root.child(group)
            for one in ((placed and placed.mapping) or {}).values():
                called = one.child("is")
                if called and called.text and called.text not in self.names(kind):
                    yield self._unknown(kind, called.text, called.place)

    def shown(self, path: Path) -> str:
        """Return how a path is written in messages: from the folder above the recipes."""
        base = self.root.resolve().parent
        resolved = path.resolve()
        return resolved.relative_to(base).as_posix() if resolved.is_relative_to(base) else str(path)

    def named(self, kind: str, name: str, wanted: type[M], place: Place) -> tuple[Source, M]:
        """Return the recipe called `name`, wanted at `place`; raises Unreadable."""
        source = self._called(kind, name, place)
        assert isinstance(source.model, wanted)
        return source, source.model

    def system_file(self, name: str, place: Place) -> Source:
        """Return the system or variant called `name`, wanted at `place`; raises Unreadable."""
        return self._called("system", name, place)

    def _called(self, kind: str, name: str, place: Place) -> Source:
        path = self.root / folder_of(kind) / f"{name}.yaml"
        if path not in self.read and not path.is_file():
            raise Unreadable([self._unknown(kind, name, place)])
        source = self.source(path)
        if _kind(source) != kind:
            raise Unreadable([mistake(
                f"unknown-{kind}", f"`{name}` is not a {kind}.",
                place, source.place("kind").noted("its file says so here"),
                found=f"a {source.model.kind}", expected=f"a {kind}")])
        return source

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
            return _kind(self.source(self.root / folder_of(kind) / f"{name}.yaml")) == kind
        except Unreadable:
            return False


def _kind(source: Source) -> str:
    return _SERVES_AS.get(source.model.kind, source.model.kind)


def _refuse(mistakes: Iterable[Finding]) -> None:
    if said := tuple(mistakes):
        raise Unreadable(said)
