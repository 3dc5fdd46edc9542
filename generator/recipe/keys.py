"""Which keys may stand at a place of a recipe, and what each is for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.recipe.document import Document, Path, Step
from generator.recipe.schema import Cable, Conversion, Part, System

_KINDS = {"part": Part, "cable": Cable, "system": System, "conversion": Conversion}


def keys_at(document: Document, path: Path) -> list[str]:
    """Return the keys that the mapping at `path` may have, in the order of the handbook."""
    model = _model_at(document, path)
    return [info.alias or name for name, info in model.model_fields.items()] if model else []


def described(document: Document, path: Path) -> str:
    """Return what the key at the end of `path` is for; nothing where that is not known."""
    field = _field(document, path)
    return (field.description or "") if field else ""


def optional(document: Document, path: Path) -> bool:
    """Tell whether the key at the end of `path` may be left out."""
    field = _field(document, path)
    return field is not None and not field.is_required()


def _field(document: Document, path: Path) -> FieldInfo | None:
    model = _model_at(document, path[:-1])
    fields = model.model_fields.items() if model and path else ()
    return next((info for name, info in fields if (info.alias or name) == path[-1]), None)


def _model_at(document: Document, path: Path) -> type[BaseModel] | None:
    kind = document.value("kind")
    shape: Any = _KINDS.get((kind.text or "") if kind else "")
    for step in path:
        shape = _below(shape, step)
    return shape if _is_model(shape) else None


def _is_model(shape: Any) -> bool:
    return isinstance(shape, type) and issubclass(shape, BaseModel)


def _below(shape: Any, step: Step) -> Any:
    """Return the shape under a key of a model, or of the entries of a list or mapping."""
    if _is_model(shape):
        return next((_unwrapped(info.annotation) for name, info in shape.model_fields.items()
                     if step == (info.alias or name)), None)
    return next((each for each in _arguments(shape) if _is_model(each)), None)


def _unwrapped(annotation: Any) -> Any:
    """Return the model of a key that may be left out, else the annotation itself."""
    if type(None) in get_args(annotation):
        return next((each for each in get_args(annotation) if _is_model(each)), annotation)
    return annotation


def _arguments(annotation: Any) -> Iterator[Any]:
    for each in get_args(annotation):
        yield each
        yield from _arguments(each)
