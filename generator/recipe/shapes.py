"""Holds a document against its shape, and says each misfit at its line in plain words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from generator.findings import Finding, Severity, Unreadable, listed, near_miss
from generator.recipe.document import Document, Step
from generator.recipe.schema import KINDS, RECIPE, Cable, Conversion, Model, Part, System

_KIND_OF = {"part": Part, "cable": Cable, "system": System, "conversion": Conversion}


def shaped(document: Document) -> Model:
    """Return the recipe in `document`; raises Unreadable with every misfit."""
    if document.root.mapping is None:
        raise Unreadable([_finding(document, (), "wrong-shape", "This is not a recipe.",
                                   found="a text or a list",
                                   expected="keys with values, the first one `kind:`")])
    try:
        return RECIPE.validate_python(document.root.data())
    except ValidationError as error:
        raise Unreadable(list(_misfits(document, error))) from None


def _misfits(document: Document, error: ValidationError) -> Iterator[Finding]:
    for misfit in error.errors(include_url=False):
        steps = tuple(misfit["loc"])
        # The first step is the kind, which stands in no key; "[key]" marks a key, not a value.
        steps = steps[1:] if steps and steps[0] in KINDS else steps
        say = _SAID.get(misfit["type"], _other)
        yield say(document, tuple(s for s in steps if s != "[key]"), misfit)


def _finding(
    document: Document, steps: tuple[Step, ...], rule: str, message: str, at_key: bool = False,
    **words: str,
) -> Finding:
    place = document.key_place(*steps) if at_key and steps else document.place(*steps)
    return Finding(rule, Severity.ERROR, message, (place,), **words)


def _path(steps: tuple[Step, ...]) -> str:
    return " > ".join(str(step) for step in steps) or "the file"


def _missing(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _finding(document, steps[:-1], "missing-key", f"The key `{steps[-1]}` is missing.",
                    at_key=True, found=f"no `{steps[-1]}` under {_path(steps[:-1])}",
                    expected=_described(document, steps))


def _extra(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    known = _keys(document, steps[:-1])
    return _finding(document, steps, "unknown-key", f"The key `{steps[-1]}` is not known here.",
                    at_key=True, found=f"`{steps[-1]}`", expected=f"one of {listed(known)}",
                    hint=near_miss(str(steps[-1]), known))


def _choice(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    known = [word.strip("' ") for word in misfit["ctx"]["expected"].replace(" or ", ", ").split(",")]
    return _wrong(document, steps, misfit, f"one of {listed(known)}",
                  near_miss(str(misfit["input"]), known))


def _kind(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    tag = document.root.child("kind")
    return _finding(document, ("kind",), "wrong-kind", "This is not a kind of recipe.",
                    found=f"`{tag.text}`" if tag and tag.text else "no `kind:`",
                    expected=f"`kind:` and one of {listed(KINDS)}",
                    hint=near_miss((tag.text or "") if tag else "", KINDS))


def _pattern(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, _PATTERNS.get(misfit["ctx"]["pattern"], "another form"))


def _number(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, "a number, for example `0.75`")


def _bound(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, misfit["msg"].removeprefix("Input should be "))


def _mapping(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, "keys with values, each on its own line")


def _list(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, "a list, each entry after a hyphen")


def _text(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    return _wrong(document, steps, misfit, "a text")


def _other(document: Document, steps: tuple[Step, ...], misfit: Any) -> Finding:
    message = misfit["msg"]
    return _wrong(document, steps, misfit, message[:1].lower() + message[1:])


def _wrong(
    document: Document, steps: tuple[Step, ...], misfit: Any, expected: str, hint: str = ""
) -> Finding:
    return _finding(document, steps, "wrong-shape", f"{_path(steps)}: this does not fit.",
                    at_key="[key]" in misfit["loc"], found=_shown(misfit["input"]),
                    expected=expected, hint=hint)


def _shown(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "keys with values"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    text = str(value)
    return f"`{text if len(text) <= 60 else text[:57] + '...'}`" if text else "an empty text"


def _model_at(document: Document, steps: tuple[Step, ...]) -> type[BaseModel] | None:
    """Return the model that the mapping at `steps` is held against."""
    kind = document.root.child("kind")
    model: Any = _KIND_OF.get((kind.text or "") if kind else "")
    for step in steps:
        if model is None:
            return None
        model = _model_below(model, step)
    return model if isinstance(model, type) and issubclass(model, BaseModel) else None


def _model_below(model: Any, step: Step) -> Any:
    if isinstance(model, type) and issubclass(model, BaseModel):
        for name, info in model.model_fields.items():
            if str(step) == (info.alias or name):
                return info.annotation
        return None
    models = [each for each in _arguments(model) if isinstance(each, type)
              and issubclass(each, BaseModel)]
    return models[0] if models else None


def _arguments(annotation: Any) -> Iterator[Any]:
    for each in get_args(annotation):
        yield each
        yield from _arguments(each)


def _keys(document: Document, steps: tuple[Step, ...]) -> list[str]:
    model = _model_at(document, steps)
    if model is None:
        return []
    return [info.alias or name for name, info in model.model_fields.items()]


def _described(document: Document, steps: tuple[Step, ...]) -> str:
    model = _model_at(document, steps[:-1])
    for name, info in model.model_fields.items() if model else ():
        if (info.alias or name) == steps[-1]:
            return info.description or ""
    return "it"


_PATTERNS = {
    r"^[a-z0-9][a-z0-9-]*$": "small letters, digits and hyphens, for example `hot-water`",
    r"^[A-Z]{1,2}[0-9]{1,3}$": "a designation, for example `K1`",
    r"^[A-Z]{1,2}[0-9]{1,3}:[A-Za-z0-9-]+$": "a terminal, for example `X1:7`",
    r"^[A-Z]{1,2}[0-9]{1,3}\.[a-z0-9-]+$": "a switch, for example `K1.hot-water`",
    r"^[A-Z]{1,2}[0-9]{1,3}(\.[a-z0-9-]+)?$": "a part, or a part and what it holds, "
                                              "for example `M1` or `E1.burner`",
    r"^\d{4}-\d{2}-\d{2}$": "a date, for example `2026-11-25`",
}
_SAID: dict[str, Callable[[Document, tuple[Step, ...], Any], Finding]] = {
    "missing": _missing,
    "extra_forbidden": _extra,
    "literal_error": _choice,
    "enum": _choice,
    "union_tag_invalid": _kind,
    "union_tag_not_found": _kind,
    "string_pattern_mismatch": _pattern,
    "float_parsing": _number,
    "float_type": _number,
    "int_parsing": _number,
    "int_type": _number,
    "int_from_float": _number,
    "greater_than": _bound,
    "greater_than_equal": _bound,
    "less_than": _bound,
    "less_than_equal": _bound,
    "dict_type": _mapping,
    "model_type": _mapping,
    "model_attributes_type": _mapping,
    "tuple_type": _list,
    "string_type": _text,
    "string_too_short": _text,
}
