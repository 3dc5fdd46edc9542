"""The shapes of a recipe file together: what reading holds a file against, and what editors use."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue

from generator.recipe.articles import Cable, Part
from generator.recipe.conversions import Conversion
from generator.recipe.costs import Costs
from generator.recipe.named_changes import NamedChange
from generator.recipe.placed import LaidCable, PlacedPart
from generator.recipe.signs import Signs
from generator.recipe.systems import System
from generator.recipe.variants import Variant

Model = Part | Cable | Signs | System | Variant | Conversion | Costs
RECIPE: TypeAdapter[Model] = TypeAdapter(Annotated[Model, Field(discriminator="kind")])
KINDS: dict[str, tuple[type[Model], str]] = {
    "part": (Part, "parts"),
    "cable": (Cable, "parts"),
    "signs": (Signs, "signs"),
    "system": (System, "systems"),
    "variant": (Variant, "systems"),
    "conversion": (Conversion, "conversions"),
    "costs": (Costs, "costs"),
}
"""Each kind of recipe with its shape and the folder it stands in."""


def used_by(model: Model) -> frozenset[str]:
    """Return the names of the recipes that a recipe uses."""
    match model:
        case System():
            return _placed(model.parts, model.cables) | _changed(model.offers)
        case Variant():
            return _changed({**model.changes, **model.offers}) | {model.extends}
        case Conversion():
            return frozenset((model.found, model.fitted))
    return frozenset()


def _placed(*groups: Mapping[str, PlacedPart | LaidCable]) -> frozenset[str]:
    return frozenset(each.is_ for group in groups for each in group.values())


def _changed(changes: dict[str, NamedChange]) -> frozenset[str]:
    used = (_placed(what.parts, what.cables)
            for change in changes.values() for what in (change.replace, change.add))
    return frozenset().union(*used)


class _Draft07(GenerateJsonSchema):
    schema_dialect = "http://json-schema.org/draft-07/schema#"


def json_schema() -> JsonSchemaValue:
    """Return the JSON Schema, draft 07, of a recipe file.

    It describes what an editor reads by YAML 1.2; reading here keeps every scalar as text, so that
    a word such as `on` means the same with quotes and without.
    """
    schema = RECIPE.json_schema(schema_generator=_Draft07, ref_template="#/definitions/{model}")
    schema["definitions"] = schema.pop("$defs")
    return {"$schema": _Draft07.schema_dialect, "title": "Recipe", **_draft07(schema)}


def _draft07(value: Any) -> Any:
    """Return the schema said as draft 07 says it, and as strict as reading is."""
    if isinstance(value, list):
        return [_draft07(each) for each in value]
    if not isinstance(value, dict):
        return value
    out = {name: _draft07(each) for name, each in value.items() if name != "discriminator"}
    if "prefixItems" in out:
        out["items"] = out.pop("prefixItems")
    if "patternProperties" in out:
        out["additionalProperties"] = False
    if _may_be_left_out(out):
        out |= _one_of(out.pop("anyOf"))
        del out["default"]
    if "$ref" in out and len(out) > 1:
        out["allOf"] = [{"$ref": out.pop("$ref")}]
    return out


_NOTHING = {"type": "null"}


def _may_be_left_out(schema: dict[str, Any]) -> bool:
    return _NOTHING in schema.get("anyOf", ()) and schema.get("default", ...) is None


def _one_of(choices: list[dict[str, Any]]) -> dict[str, Any]:
    """Return the one choice beside nothing: a key is left out, never left empty."""
    (choice,) = (each for each in choices if each != _NOTHING)
    return choice
