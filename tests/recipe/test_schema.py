"""The published JSON Schema: valid, every key described, and of one mind with the reader."""

import json
import re

import pytest
import yaml
from jsonschema import Draft7Validator

from generator.findings import Unreadable
from generator.recipe.parsing import read_document
from generator.recipe.schema import json_schema
from generator.recipe.shapes import shaped
from tests.recipe.mistakes import RECIPES, SOUND

SCHEMA = json_schema()
PUBLISHED = RECIPES.parent / "recipe.schema.json"
RECIPE_FILES = sorted([*RECIPES.glob("*/*.yaml"), *SOUND.glob("*/*.yaml")])
IDS = [f"{path.parent.name}/{path.stem}" for path in RECIPE_FILES]


class CoreSchemaLoader(yaml.SafeLoader):
    """Reads plain scalars as the core schema of YAML 1.2.2 (section 10.3.2) does, as editors do.

    PyYAML follows YAML 1.1, in which `off` is false and 08 an octal number; here only `true` and
    `false` are truth values. The recipes' own reader keeps every scalar as text and turns it into
    what its key wants, so that a word means the same with and without quotes.
    """


CoreSchemaLoader.yaml_implicit_resolvers = {}
for tag, form, firsts in [
    ("null", r"null|Null|NULL|~|", ["n", "N", "~", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+", list("-+0123456789")),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", list("-+.0123456789")),
]:
    CoreSchemaLoader.add_implicit_resolver(
        f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{form})$"), firsts)


def as_an_editor_reads(text):
    return yaml.load(text, Loader=CoreSchemaLoader)


def misfits(text):
    errors = Draft7Validator(SCHEMA).iter_errors(as_an_editor_reads(text))
    return [error.message for error in errors]


def is_read(text):
    try:
        shaped(read_document("x.yaml", text.encode()))
    except Unreadable:
        return False
    return True


def test_the_schema_is_valid_draft_07():
    Draft7Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "http://json-schema.org/draft-07/schema#"


def keys_and_shapes(schema):
    for name, definition in schema["definitions"].items():
        yield name, definition
        for key, shape in definition.get("properties", {}).items():
            yield f"{name}.{key}", shape


def test_every_key_and_every_shape_is_described():
    found = dict(keys_and_shapes(SCHEMA))
    assert len(found) > 100
    assert [name for name, shape in found.items() if not shape.get("description", "").strip()] == []


def inner_objects(value):
    if isinstance(value, dict):
        if value.get("type") == "object":
            yield value
        for each in value.values():
            yield from inner_objects(each)
    elif isinstance(value, list):
        for each in value:
            yield from inner_objects(each)


def test_no_mapping_takes_a_key_that_the_reader_refuses():
    for shape in inner_objects(SCHEMA):
        closed = shape.get("additionalProperties") is False
        listed = shape.get("propertyNames") == {"$ref": "#/definitions/Colour"}
        assert closed or listed or shape["title"] == "Goes", shape


def test_the_published_schema_is_the_one_that_recipes_are_read_by():
    told = "regenerate it: handbook schema > recipe.schema.json"
    assert PUBLISHED.is_file(), told
    published = PUBLISHED.read_text(encoding="utf-8")
    assert published == json.dumps(SCHEMA, indent=2, ensure_ascii=False) + "\n", told


@pytest.mark.parametrize("path", RECIPE_FILES, ids=IDS)
def test_every_recipe_is_valid_as_an_editor_reads_it(path):
    assert misfits(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", RECIPE_FILES, ids=IDS)
def test_every_recipe_tells_the_editor_its_schema_in_the_first_line(path):
    first = path.read_text(encoding="utf-8").partition("\n")[0]
    head, _, target = first.partition("=")
    assert head == "# yaml-language-server: $schema"
    assert (path.parent / target).resolve() == PUBLISHED.resolve()


CABLE = "kind: cable\nname: flex\ncores: [BN, BU, GNYE]\narea: 0.75\namps: 6\n"
PART = """\
kind: part
name: switch
letter: Q
about: Switches.
protection: none
terminals:
  L: {}
  N: {}
switches:
  switch: {kind: isolator, rest: "off", worked: "on"}
contacts:
  pole: {between: [L, N], closed-while: {switch: "on"}}
"""


@pytest.mark.parametrize("text", [
    CABLE,
    CABLE + "signal: true\n",
    PART,
    PART.replace('"on"', "on").replace('"off"', "off"),
])
def test_reader_and_editor_both_take(text):
    assert is_read(text)
    assert misfits(text) == []


@pytest.mark.parametrize("text", [
    CABLE.replace("amps: 6\n", ""),
    CABLE.replace("amps: 6", "amps:"),
    CABLE.replace("amps: 6", "amps: 0"),
    CABLE.replace("amps: 6", "amps: six"),
    CABLE.replace("amps: 6", "amps: .nan"),
    CABLE.replace("amps: 6", "amps: .inf"),
    CABLE + "signal: yes\n",
    CABLE + "signal: 1\n",
    CABLE + "heat_resisting: true\n",
    CABLE + "source:\n",
    CABLE.replace("BN", "brown"),
    CABLE.replace("cable", "wire"),
    PART.replace("  L: {}", "  L 1: {}"),
    PART.replace("[L, N]", "[L]"),
    PART.replace("[L, N]", "[L, N, L]"),
    PART.replace("  L: {}", "  L: {tail:}"),
    PART.replace("switches:\n  switch", "switches:\n  Main Switch"),
])
def test_reader_and_editor_both_refuse(text):
    assert not is_read(text)
    assert misfits(text) != []


def test_a_switch_word_means_the_same_with_quotes_and_without():
    quoted, plain = (shaped(read_document("x.yaml", text.encode()))
                     for text in (PART, PART.replace('"on"', "on").replace('"off"', "off")))
    assert quoted == plain
    assert plain.switches["switch"].worked == "on"
