"""What does not fit its shape, said in plain words: what stands there, what belongs there."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from generator.findings import Finding, mistake, near_miss, one_of
from generator.recipe.forms import COLOURS, DATE, SAID
from generator.recipe.key_misfits import missing_key, nothing, unknown_key, unknown_kind
from generator.recipe.misfit import Misfit, called, short

_OF_KEYS: dict[str, Callable[[Misfit], Finding]] = {
    "missing": missing_key,
    "extra_forbidden": unknown_key,
    "union_tag_invalid": unknown_kind,
    "union_tag_not_found": unknown_kind,
}
_CHOICES = ("literal_error", "enum")
_NUMBERS = ("no_number", "float_type", "int_type")
_MAPPINGS = ("dict_type", "model_type")
_EXPECTED = {
    **dict.fromkeys(_NUMBERS, "a number, for example `0.75`"),
    **dict.fromkeys(_MAPPINGS, "lines of `key: value`, indented below it"),
    "no_number": "{form}",
    "no_truth": "`true` or `false`",
    "no_date": SAID[DATE],
    "greater_than": "more than {gt:g}",
    "greater_than_equal": "at least {ge:g}",
    "less_than": "less than {lt:g}",
    "less_than_equal": "at most {le:g}",
    "tuple_type": "a list: each entry on its own line after `- `, or `[one, two]`",
    "string_type": "a text",
    "string_too_short": "a text",
    "string_too_long": "at most {max_length} characters",
    "one_of_two": "exactly 2 entries",
    "too_short": "{min_length} or more entries",
    "too_long": "at most {max_length} entries",
}
"""What belongs there, by the validating library's word for what is wrong."""


def said(misfit: Misfit) -> Finding:
    """Return the finding that says a misfit."""
    if misfit.rule in _OF_KEYS:
        return _OF_KEYS[misfit.rule](misfit)
    if misfit.found is None:
        return nothing(misfit.document, misfit.path)
    message = (f"`{short(misfit.last)}` cannot stand here as a key." if misfit.at_key
               else f"This cannot be {called(misfit.path)}." if misfit.in_list
               else f"This cannot stand after {called(misfit.path)}.")
    return mistake("wrong-shape", message, misfit.place, found=_counted(misfit),
                   expected=_expected(misfit), hint=_hint(misfit))


def _expected(misfit: Misfit) -> str:
    if misfit.rule in _CHOICES:
        letters = f"letters of IEC 60757: {', '.join(map(' '.join, COLOURS.items()))}"
        return letters if _of_colour(misfit) else one_of(_choices(misfit))
    if misfit.rule == "string_pattern_mismatch":
        return SAID.get(misfit.context["pattern"], "another form")
    return _EXPECTED.get(misfit.rule, "something else").format(**misfit.context)


def _choices(misfit: Misfit) -> list[str]:
    return re.findall(r"'([^']*)'", misfit.context["expected"])


def _of_colour(misfit: Misfit) -> bool:
    return _choices(misfit) == list(COLOURS)


def _hint(misfit: Misfit) -> str:
    written = misfit.found if isinstance(misfit.found, str) else ""
    if misfit.rule in _CHOICES:
        return near_miss(_code(written) if _of_colour(misfit) else written, _choices(misfit))
    if misfit.rule in _NUMBERS:
        return _number_hint(written)
    if misfit.rule in _MAPPINGS and re.match(r"[A-Za-z0-9.-]+:\S", written):
        return "a space is missing after the colon"
    if misfit.rule == "string_type" and not written:
        return "a text that begins with `{` or `[`, or holds `: `, stands in quotes"
    return "the calendar has no such day" if misfit.rule == "no_date" else ""


def _code(colour: str) -> str:
    """Return the letters of a colour that was written by its name, or in small letters."""
    codes = {name: code for code, name in COLOURS.items()}
    return codes.get(colour.lower(), colour.upper())


def _number_hint(written: str) -> str:
    if re.fullmatch(r"[0-9]+,[0-9]+", written):
        return f"write a point instead of the comma: `{written.replace(',', '.')}`"
    return "write the number alone; the unit is known" if re.match(r"[0-9.]+ ?\D", written) else ""


def _counted(misfit: Misfit) -> str:
    if misfit.rule in ("too_short", "too_long") and misfit.found:
        return f"{len(misfit.found)} {'entry' if len(misfit.found) == 1 else 'entries'}"
    return _shown(misfit.found)


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "lines of `key: value`" if value else "empty braces"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    return f"`{short(str(value))}`" if str(value).strip() else "an empty text"
