"""Where recipe files stand: their folders and names, and what stands where none belongs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from generator.findings import Finding, Place, listed, mistake
from generator.recipe.document import Document
from generator.recipe.forms import NAME, SAID
from generator.recipe.schema import KINDS

FOLDERS = tuple(dict.fromkeys(folder for _, folder in KINDS.values()))
"""The folders in the order in which recipes build up."""


def folder_of(kind: str) -> str:
    """Return the folder in which recipes of a kind stand."""
    return KINDS[kind][1]


def stands_well(root: Path, path: Path) -> bool:
    """Tell whether a path is `parts/x.yaml`, `systems/x.yaml` or `conversions/x.yaml`."""
    folder = path.absolute().parent
    return (path.suffix == ".yaml" and folder.name in FOLDERS
            and folder.parent.resolve() == root.resolve())


def files_below(root: Path, folder: Path) -> tuple[Path, ...]:
    """Return every file below a folder, recipes first and in the order in which they build up.

    Hidden files and the copies that editors leave are none; nothing else is passed over.
    """
    def rank(path: Path) -> int:
        folder = path.absolute().parent.name
        return FOLDERS.index(folder) if stands_well(root, path) else len(FOLDERS)

    paths = (path for path in folder.rglob("*") if path.is_file() and not _left(path, folder))
    return tuple(sorted(paths, key=lambda path: (rank(path), path)))


def _left(path: Path, folder: Path) -> bool:
    hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
    return hidden or path.name.endswith("~")


def stray(root: Path, path: Path, place: Place) -> Iterator[Finding]:
    """Yield that a file of the recipes folder stands where none is read from."""
    inside = root.resolve() in path.resolve().parents
    if stands_well(root, path) or not inside or not path.is_file():
        return
    where = path.resolve().relative_to(root.resolve())
    in_its_folder = len(where.parts) == 2 and where.parts[0] in FOLDERS
    yield mistake(
        "wrong-file-name", "No recipe is read from this file.", place,
        found=f"`{where.as_posix()}`", expected=listed(f"{each}/name.yaml" for each in FOLDERS),
        hint=f"rename it to `{path.stem}.yaml`" if in_its_folder
        else "move it into one of these folders, or out of the recipes")


def misplaced(root: Path, path: Path, document: Document) -> Iterator[Finding]:
    """Yield that a recipe has an unfit file name, or is of another kind than its folder holds."""
    place = document.place("kind")
    if not re.match(NAME, path.stem):
        yield mistake(
            "wrong-file-name", "This file name cannot be used as a name.", place,
            found=f"`{path.name}`", expected=SAID[NAME],
            hint="other recipes call this one by its file name: rename the file")
    kind, folder = document.text("kind"), path.absolute().parent.name
    if stands_well(root, path) and kind in KINDS and folder_of(kind) != folder:
        own = listed(f"kind: {each}" for each in KINDS if folder_of(each) == folder)
        yield mistake(
            "wrong-kind", f"A {kind} does not belong in this folder.", place,
            found=f"`kind: {kind}` in the folder `{folder}`",
            expected=f"{own}; or the folder `{folder_of(kind)}`")
