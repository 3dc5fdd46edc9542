"""What does not fit its shape, said in plain words: what stands there, what belongs there."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from generator.findings import Finding, mistake, near_miss, one_of
from generator.recipe.forms import COLOURS, DATE, SAID
from generator.recipe.key_misfits import missing_key, nothing, unknown_key, unknown_kind
from generator.recipe.misfit import Misfit, called, short


def said(misfit: Misfit) -> Finding:
    """Return the finding that says a misfit."""
    say = _SAID.get(misfit.rule, _other)
    if misfit.found is None and say not in (unknown_key, _missing, unknown_kind):
        return nothing(misfit.document, misfit.path)
    return say(misfit)


def _missing(misfit: Misfit) -> Finding:
    if isinstance(misfit.path[-1], int):
        return _too_few(Misfit(misfit.document, misfit.path[:-1], False, "too_short",
                               misfit.found, {}))
    return missing_key(misfit)


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


def _date(misfit: Misfit) -> Finding:
    return _wrong(misfit, SAID[DATE], "the calendar has no such day")


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
    message = (f"`{short(misfit.last)}` cannot stand here as a key." if misfit.at_key
               else f"This cannot stand after {called(misfit.path)}."
               if not isinstance((misfit.path or ("",))[-1], int)
               else f"This cannot be {called(misfit.path)}.")
    return mistake("wrong-shape", message, misfit.place, found=_shown(misfit.found),
                   expected=expected, hint=hint)


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "lines of `key: value`" if value else "empty braces"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    return f"`{short(str(value))}`" if str(value).strip() else "an empty text"


_SAID: dict[str, Callable[[Misfit], Finding]] = {
    "missing": _missing,
    "extra_forbidden": unknown_key,
    "literal_error": _choice,
    "enum": _choice,
    "union_tag_invalid": unknown_kind,
    "union_tag_not_found": unknown_kind,
    "string_pattern_mismatch": _form,
    "no_date": _date,
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
