"""Holds a document against its shape, and says each misfit at its line."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import ValidationError

from generator.findings import Finding, Unreadable, mistake
from generator.recipe.document import Document, Path, Value
from generator.recipe.key_misfits import meant_path, nothing
from generator.recipe.misfit import Misfit
from generator.recipe.misfits import said
from generator.recipe.schema import KINDS, RECIPE, Model

KEY_MARK = "[key]"
"""What the validating library ends a path with when it means the key and not its value."""


def shaped(document: Document) -> Model:
    """Return the recipe in `document`; raises Unreadable with every misfit and mistake in it."""
    mistakes = list(document.mistakes)
    if document.root.mapping is None:
        raise Unreadable([*mistakes, mistake(
            "wrong-shape", "This is not a recipe.", document.root.place,
            found="a text or a list", expected="lines of `key: value`, the first one `kind:`")])
    try:
        model = RECIPE.validate_python(document.root.data(), by_alias=True, by_name=False)
        mistakes += _empty_places(document, set())
    except ValidationError as error:
        mistakes += _misfits(document, error)
    if mistakes:
        raise Unreadable(mistakes)
    return model


def _misfits(document: Document, error: ValidationError) -> Iterator[Finding]:
    misfits = [_misfit(document, each) for each in error.errors(include_url=False)]
    misspelt = {meant_path(misfit) for misfit in misfits}
    for misfit in misfits:
        if not (_follows(misfit) or (misfit.rule == "missing" and misfit.path in misspelt)):
            yield said(misfit)
    yield from _empty_places(document, {misfit.path for misfit in misfits})


def _misfit(document: Document, error: object) -> Misfit:
    assert isinstance(error, dict)
    path: Path = tuple(error["loc"])
    # The first step is the kind, by which the shape was chosen; it stands in no key.
    if path and path[0] in KINDS:
        path = path[1:]
    rule = error["type"]
    if rule == "missing" and isinstance(path[-1], int):
        # Of two entries one is there; the library counts it as a key that is missing.
        rule, path = "one_of_two", path[:-1]
    at_key = path[-1:] == (KEY_MARK,) and document.value(*path) is None
    return Misfit(document, path[:-1] if at_key else path, at_key, rule,
                  error["input"], error.get("ctx", {}))


def _follows(misfit: Misfit) -> bool:
    """Tell whether it only follows from what is said already.

    A refused value fits nothing; and a list whose entries do not fit is called too short.
    """
    refused = any(value.refused for value in misfit.document.root.along(misfit.path))
    return refused or (misfit.rule == "too_short"
                       and len(misfit.found) >= misfit.context["min_length"])


def _empty_places(document: Document, said_already: set[Path]) -> Iterator[Finding]:
    """Yield every key with nothing behind it: an author who means nothing leaves the key out."""
    for path, value in _values((), document.root):
        if value.text is None and value.mapping is None and value.listing is None \
                and not value.refused and not _below_any(path, said_already):
            yield nothing(document, path)


def _below_any(path: Path, above: set[Path]) -> bool:
    return any(path[:length] in above for length in range(1, len(path) + 1))


def _values(path: Path, value: Value) -> Iterator[tuple[Path, Value]]:
    for step, below in value.children():
        yield (*path, step), below
        yield from _values((*path, step), below)
