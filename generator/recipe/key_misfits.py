"""Keys that are missing, unknown or without a value, said in plain words."""

from __future__ import annotations

import re

from generator.findings import Finding, listed, mistake, near_miss, nearest, one_of
from generator.recipe.document import Document, Path
from generator.recipe.keys import described, keys_at, optional
from generator.recipe.misfit import Misfit, called, short
from generator.recipe.schema import KINDS

_COMMA_HINT = 'a text with a comma stands in quotes: `key: "one, two"`'


def nothing(document: Document, path: Path) -> Finding:
    """Return the finding that nothing stands where a value belongs."""
    place = document.key_place(*path)
    behind = place.text[place.column - 1 :].partition(" #")
    hint = "what follows a space and `#` is a comment: put a text with `#` in quotes"
    return mistake(
        "missing-value", f"Nothing stands after {called(path)}.", place, found="nothing",
        expected=described(document, path) or "a value",
        hint=hint if behind[1] and behind[0].rstrip().endswith(":")
        else "leave the key out if there is nothing to say" if optional(document, path) else "")


def missing_key(misfit: Misfit) -> Finding:
    """Return the finding that a key is not there."""
    place = (misfit.document.key_place(*misfit.path[:-1]) if misfit.path[1:]
             else misfit.document.root.place)
    return mistake(
        "missing-key", f"The key `{misfit.last}` is missing{_under(misfit.path[:-1])}.", place,
        found=f"no `{misfit.last}:`",
        expected=f"`{misfit.last}:` {described(misfit.document, misfit.path)}")


def _under(path: Path) -> str:
    """Return " in `cables`, `W1`", or nothing for the top of the file."""
    words = [f"number {step + 1}" if isinstance(step, int) else f"`{step}`" for step in path]
    return f" in {', '.join(words)}" if words else ""


def unknown_key(misfit: Misfit) -> Finding:
    """Return the finding that no such key may stand here."""
    known = keys_at(misfit.document, misfit.path[:-1])
    word = misfit.last
    message = f"The key `{word}` is not known here." if word else "A key without a word."
    return mistake(
        "unknown-key", message, misfit.document.key_place(*misfit.path),
        found=f"`{short(word)}`" if word else "a colon with nothing before it",
        expected=one_of(known), hint=_extra_hint(misfit, known))


def _extra_hint(misfit: Misfit, known: list[str]) -> str:
    holder = misfit.document.value(*misfit.path[:-1])
    if re.search("[\u2018-\u201f]", misfit.document.key_place(*misfit.path).text):
        return 'write straight quotation marks: `key: "one, two"`'
    if misfit.found is not None:
        return near_miss(misfit.last, known)
    if re.match(r"[a-z-]+:\S", misfit.last):
        return "a space is missing after the colon"
    return _COMMA_HINT if holder and holder.braced else near_miss(misfit.last, known)


def meant_path(misfit: Misfit) -> Path:
    """Return the path of the key that was probably meant by an unknown one, else no path."""
    if misfit.rule != "extra_forbidden":
        return ()
    holder = misfit.path[:-1]
    meant = nearest(misfit.last, keys_at(misfit.document, holder))
    return (*holder, meant) if meant else ()


def unknown_kind(misfit: Misfit) -> Finding:
    """Return the finding that nobody can tell what kind of recipe this is."""
    written = misfit.document.value("kind")
    word = written.text if written else None
    message = ("This is not a kind of recipe." if written
               else "The key `kind` is missing, so nobody can tell what this recipe is.")
    return mistake(
        "wrong-kind", message, misfit.document.place("kind"),
        found=f"`{short(word)}`" if word else "no word" if written else "no `kind:`",
        expected=f"`kind:` and one of {listed(KINDS)}", hint=near_miss(word or "", KINDS))
