"""Which keys may stand at a place of a recipe, and what each is for: as the JSON Schema says."""

from __future__ import annotations

from functools import cache
from typing import Any

from generator.recipe.document import Document, Path, Step
from generator.recipe.schema import KINDS, json_schema


def keys_at(document: Document, path: Path) -> list[str]:
    """Return the keys that the mapping at `path` may have, in the order of the handbook."""
    return list(_shape(document, path).get("properties", ()))


def described(document: Document, path: Path) -> str:
    """Return what the key at the end of `path` is for; nothing where that is not known."""
    return str(_shape(document, path).get("description", ""))


def optional(document: Document, path: Path) -> bool:
    """Tell whether the key at the end of `path` may be left out."""
    holder = _shape(document, path[:-1])
    return path[-1] in holder.get("properties", ()) and path[-1] not in holder.get("required", ())


@cache
def _definitions() -> dict[str, Any]:
    definitions: dict[str, Any] = json_schema()["definitions"]
    return definitions


def _shape(document: Document, path: Path) -> dict[str, Any]:
    """Return the schema of what stands at `path`, with the words of its key; else an empty one."""
    kind = document.text("kind")
    if kind not in KINDS:
        return {}
    shape: dict[str, Any] = _definitions()[KINDS[kind][0].__name__]
    for step in path:
        shape = _below(shape, step)
    return shape


def _below(shape: dict[str, Any], step: Step) -> dict[str, Any]:
    found = shape.get("properties", {}).get(step) or _entry(shape)
    refers = found.get("$ref") or next((each["$ref"] for each in found.get("allOf", ())), "")
    return {**_definitions().get(refers.rpartition("/")[2], {}), **found}


def _entry(shape: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of whatever stands in a list, or under a name that the author chose."""
    kinds = (shape.get("items"), shape.get("additionalProperties"),
             *shape.get("patternProperties", {}).values())
    return next((each for each in kinds if isinstance(each, dict)), {})
