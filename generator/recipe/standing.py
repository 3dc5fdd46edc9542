"""A system as it stands: what a file says of it, or its base with named changes made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from hashlib import sha256

from generator.findings import Finding, Place, Unreadable, mistake, near_miss, one_of
from generator.recipe.document import Document, Value
from generator.recipe.edits import Edit, edited, edits_of
from generator.recipe.library import Library
from generator.recipe.shapes import shaped
from generator.recipe.variants import Variant
from generator.recipe.wall import Source

Asked = tuple[str, Place]
"""The name of an offered change, and where it is asked for."""


@dataclass(frozen=True)
class Standing:
    """A system before its edits are made: its `plain` document, and the edits."""

    source: Source
    plain: Document
    edits: tuple[Edit, ...] = ()

    def read(self, without: Edit | None = None) -> Source:
        """Return the system, or what it would be `without` one edit; raises Unreadable."""
        root, mistakes = edited(
            self.plain.root, (edit for edit in self.edits if edit is not without))
        if mistakes:
            raise Unreadable(mistakes)
        document = replace(self.plain, root=root)
        return replace(self.source, document=document, model=shaped(document))

    def asked(self, names: Iterable[Asked]) -> Standing:
        """Return the system with some of its offered changes made; raises Unreadable."""
        names = tuple(names)
        offers = self.plain.value("offers")
        known = (offers and offers.mapping) or {}
        wrong = [_not_offered(self.source, name, place, list(known))
                 for name, place in names if name not in known]
        wrong += _doubled(names)
        if wrong:
            raise Unreadable(wrong)
        more = (edit for name, _ in names for edit in edits_of(known[name]))
        digest = _digest(self.plain.digest, *(name for name, _ in names))
        root = _called(self.plain.root, [name for name, _ in names])
        return replace(self, plain=replace(self.plain, root=root, digest=digest),
                       edits=(*self.edits, *more))


def _doubled(names: tuple[Asked, ...]) -> list[Finding]:
    first = dict(reversed(names))
    return [mistake(
        "doubled-name", f"The change `{name}` is asked for twice.", place.noted("again here"),
        first[name].noted("first here"), found=f"`{name}` a second time", expected="it once",
        hint="delete one of the two") for name, place in names if place != first[name]]


def _called(root: Value, changes: list[str]) -> Value:
    """Return a system's root with a name that says which offered changes are made."""
    name = root.child("name")
    if not changes or name is None:
        return root
    said = ", ".join(change.replace("-", " ") for change in changes)
    named = replace(name, text=f"{name.text} (with: {said})")
    return replace(root, mapping={**(root.mapping or {}), "name": named})


def standing(library: Library, source: Source, above: tuple[str, ...] = ()) -> Standing:
    """Return how a system or variant stands; `above` are the variants that lead to it.

    Raises Unreadable with the mistakes of what it extends.
    """
    document, model = source.document, source.model
    if not isinstance(model, Variant):
        return Standing(source, document)
    here = document.place("extends")
    if model.extends in (*above, source.name):
        raise Unreadable([_round(source.name, model.extends, here)])
    base = standing(library, library.system_file(model.extends, here), (*above, source.name))
    taken = base.asked((name, document.place("takes", i)) for i, name in enumerate(model.takes))
    own = (edit for name in model.changes for edit in edits_of(_change(document, name)))
    return Standing(source, _own(document, taken.plain), (*taken.edits, *own))


def _change(document: Document, name: str) -> Value:
    change = document.value("changes", name)
    assert change is not None
    return change


def _own(document: Document, base: Document) -> Document:
    """Return the base's document with what a variant says of itself; offers and signs add up."""
    words = {word: document.root.child(word)
             for word in ("name", "stands", "about", "seen", "offers")}
    said = {word: value for word, value in words.items() if value}
    for word in ("seen", "offers"):
        if word in said:
            said[word] = _together(base.value(word), said[word])
    whole = Value(document.root.place, mapping=said,
                  keys={word: document.root.keys[word] for word in said})
    return replace(document, root=_together(base.root, whole),
                   digest=_digest(base.digest, document.digest))


def _together(under: Value | None, over: Value) -> Value:
    """Return a mapping with everything of two; where both have a key, `over` is right."""
    if under is None:
        return over
    return replace(under, mapping={**(under.mapping or {}), **(over.mapping or {})},
                   keys={**under.keys, **over.keys})


def _digest(*digests: str) -> str:
    return sha256("\n".join(digests).encode()).hexdigest()


def _round(name: str, base: str, place: Place) -> Finding:
    return mistake(
        "extends-itself", f"`{name}` extends itself, at once or by way of others.", place,
        found=f"`extends: {base}`", expected="a system that does not rest on this one")


def _not_offered(source: Source, name: str, place: Place, known: list[str]) -> Finding:
    return mistake(
        "unknown-change", f"`{source.name}` offers no change `{name}`.",
        place, source.place("offers").noted("what it offers"), found=f"`{name}`",
        expected=one_of(known) if known else "nothing: it offers no changes",
        hint=near_miss(name, known))
