"""What does not fit its shape, said in plain words: what stands there, what belongs there."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from generator.findings import Finding, Place, listed, mistake, near_miss, nearest, one_of
from generator.recipe.document import Document, Path
from generator.recipe.forms import COLOURS, SAID
from generator.recipe.keys import described, keys_at, optional
from generator.recipe.schema import KINDS

_COMMA_HINT = 'a text with a comma stands in quotes: `key: "one, two"`'


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
    def last(self) -> str:
        """The key or the number at the end of its path."""
        return str(self.path[-1]) if self.path else ""


def said(misfit: Misfit) -> Finding:
    """Return the finding that says a misfit."""
    say = _SAID.get(misfit.rule, _other)
    if misfit.found is None and say not in (_extra, _missing, _kind):
        return nothing(misfit.document, misfit.path)
    return say(misfit)


def meant_path(misfit: Misfit) -> Path:
    """Return the path of the key that was probably meant by an unknown one, else no path."""
    if misfit.rule != "extra_forbidden":
        return ()
    holder = misfit.path[:-1]
    meant = nearest(misfit.last, keys_at(misfit.document, holder))
    return (*holder, meant) if meant else ()


def nothing(document: Document, path: Path) -> Finding:
    """Return the finding that nothing stands where a value belongs."""
    place = document.key_place(*path)
    behind = place.text[place.column - 1 :].partition(" #")
    hint = "what follows a space and `#` is a comment: put a text with `#` in quotes"
    return mistake(
        "missing-value", f"Nothing stands after {_called(path)}.", place, found="nothing",
        expected=described(document, path) or "a value",
        hint=hint if behind[1] and behind[0].rstrip().endswith(":")
        else "leave the key out if there is nothing to say" if optional(document, path) else "")


def _called(path: Path) -> str:
    """Return how an engineer would call the place at `path`."""
    if not path:
        return "the recipe"
    if isinstance(path[-1], int):
        return f"entry {path[-1] + 1} of `{path[-2]}`" if len(path) > 1 else f"entry {path[-1] + 1}"
    return f"`{path[-1]}:`"


def _under(path: Path) -> str:
    """Return " in `cables`, `W1`", or nothing for the top of the file."""
    words = [f"number {step + 1}" if isinstance(step, int) else f"`{step}`" for step in path]
    return f" in {', '.join(words)}" if words else ""


def _missing(misfit: Misfit) -> Finding:
    if isinstance(misfit.path[-1], int):
        return _too_few(Misfit(misfit.document, misfit.path[:-1], False, "too_short",
                               misfit.found, {}))
    place = (misfit.document.key_place(*misfit.path[:-1]) if misfit.path[1:]
             else misfit.document.root.place)
    return mistake(
        "missing-key", f"The key `{misfit.last}` is missing{_under(misfit.path[:-1])}.", place,
        found=f"no `{misfit.last}:`",
        expected=f"`{misfit.last}:` {described(misfit.document, misfit.path)}")


def _extra(misfit: Misfit) -> Finding:
    known = keys_at(misfit.document, misfit.path[:-1])
    word = misfit.last
    message = f"The key `{word}` is not known here." if word else "A key without a word."
    return mistake(
        "unknown-key", message, misfit.document.key_place(*misfit.path),
        found=f"`{_short(word)}`" if word else "a colon with nothing before it",
        expected=one_of(known), hint=_extra_hint(misfit, known))


def _extra_hint(misfit: Misfit, known: list[str]) -> str:
    holder = misfit.document.value(*misfit.path[:-1])
    if misfit.found is not None:
        return near_miss(misfit.last, known)
    if re.match(r"[a-z-]+:\S", misfit.last):
        return "a space is missing after the colon"
    return _COMMA_HINT if holder and holder.braced else near_miss(misfit.last, known)


def _kind(misfit: Misfit) -> Finding:
    written = misfit.document.value("kind")
    word = written.text if written else None
    message = ("This is not a kind of recipe." if written
               else "The key `kind` is missing, so nobody can tell what this recipe is.")
    return mistake(
        "wrong-kind", message, misfit.document.place("kind"),
        found=f"`{_short(word)}`" if word else "no word" if written else "no `kind:`",
        expected=f"`kind:` and one of {listed(KINDS)}", hint=near_miss(word or "", KINDS))


def _choice(misfit: Misfit) -> Finding:
    known = re.findall(r"'([^']*)'", misfit.context["expected"])
    word = misfit.found if isinstance(misfit.found, str) else ""
    if tuple(known) == tuple(COLOURS):
        return _colour(misfit, word)
    return _wrong(misfit, one_of(known), near_miss(word, known))


def _colour(misfit: Misfit, word: str) -> Finding:
    letters = [code for code, colour in COLOURS.items() if word.lower() in (colour, code.lower())]
    return _wrong(misfit, f"letters of IEC 60757: {', '.join(map(' '.join, COLOURS.items()))}",
                  f"did you mean `{letters[0]}`?" if letters else near_miss(word, COLOURS))


def _form(misfit: Misfit) -> Finding:
    return _wrong(misfit, SAID.get(misfit.context["pattern"], "another form"))


def _number(misfit: Misfit) -> Finding:
    written = misfit.found if isinstance(misfit.found, str) else ""
    hint = ""
    if re.fullmatch(r"[0-9]+,[0-9]+", written):
        hint = f"write a point instead of the comma: `{written.replace(',', '.')}`"
    elif re.match(r"[0-9.]+ ?\D", written):
        hint = "write the number alone; the unit is known"
    return _wrong(misfit, misfit.context.get("form", "a number, for example `0.75`"), hint)


def _truth(misfit: Misfit) -> Finding:
    return _wrong(misfit, "`true` or `false`")


_BOUNDS = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}


def _bound(misfit: Misfit) -> Finding:
    expected = [f"{words} {misfit.context[bound]:g}" for bound, words in _BOUNDS.items()
                if bound in misfit.context]
    return _wrong(misfit, " and ".join(expected))


def _mapping(misfit: Misfit) -> Finding:
    written = misfit.found if isinstance(misfit.found, str) else ""
    hint = "a space is missing after the colon" if re.match(r"[A-Za-z0-9.-]+:\S", written) else ""
    return _wrong(misfit, "lines of `key: value`, indented below it", hint)


def _list(misfit: Misfit) -> Finding:
    return _wrong(misfit, "a list: each entry on its own line after `- `, or `[one, two]`")


def _text(misfit: Misfit) -> Finding:
    hint = 'a text that begins with `{` or `[`, or holds `: `, stands in quotes'
    return _wrong(misfit, "a text", hint if isinstance(misfit.found, (dict, list)) else "")


def _too_few(misfit: Misfit) -> Finding:
    wanted = misfit.context.get("min_length", 2)
    return _wrong(misfit, f"{'at least' if misfit.context else 'exactly'} {_entries(wanted)}")


def _too_many(misfit: Misfit) -> Finding:
    return _wrong(misfit, f"at most {_entries(misfit.context['max_length'])}")


def _entries(count: int) -> str:
    return "1 entry" if count == 1 else f"{count} entries"


def _too_long(misfit: Misfit) -> Finding:
    return _wrong(misfit, f"at most {misfit.context['max_length']} characters")


def _other(misfit: Misfit) -> Finding:
    return _wrong(misfit, "something else")


def _wrong(misfit: Misfit, expected: str, hint: str = "") -> Finding:
    message = (f"`{_short(misfit.last)}` cannot stand here as a key." if misfit.at_key
               else f"This cannot stand after {_called(misfit.path)}."
               if not isinstance((misfit.path or ("",))[-1], int)
               else f"This cannot be {_called(misfit.path)}.")
    return mistake("wrong-shape", message, misfit.place, found=_shown(misfit.found),
                   expected=expected, hint=hint)


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:57] + "..."


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "lines of `key: value`" if value else "empty braces"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    return f"`{_short(str(value))}`" if str(value).strip() else "an empty text"


_SAID: dict[str, Callable[[Misfit], Finding]] = {
    "missing": _missing,
    "extra_forbidden": _extra,
    "literal_error": _choice,
    "enum": _choice,
    "union_tag_invalid": _kind,
    "union_tag_not_found": _kind,
    "string_pattern_mismatch": _form,
    "no_number": _number,
    "float_type": _number,
    "int_type": _number,
    "no_truth": _truth,
    "greater_than": _bound,
    "greater_than_equal": _bound,
    "less_than": _bound,
    "less_than_equal": _bound,
    "dict_type": _mapping,
    "model_type": _mapping,
    "tuple_type": _list,
    "string_type": _text,
    "string_too_short": _text,
    "string_too_long": _too_long,
    "too_short": _too_few,
    "too_long": _too_many,
}
