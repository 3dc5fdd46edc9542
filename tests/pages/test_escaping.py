"""Whatever an author writes arrives on the pages as text: each free text is tried."""

from __future__ import annotations

import json
import re
import types
import typing
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from pydantic import BaseModel, StringConstraints

from generator.building import build_site
from generator.findings import Finding, Place, Severity
from generator.pages.site import findings_page
from generator.recipe.articles import Contact, Heat, Load, Part, Position
from generator.recipe.schema import KINDS
from tests.pages.project import ROOT, copied, pages, read_html, read_page

NASTY = """<b onmouseover=x>&"'</b>"""
NAMES = {(Contact, "between"), (Load, "between"), (Part, "joints"), (Part, "closed"),
         (Heat, "also_asks"), (Position, "moves_while")}
"""Texts that name terminals or loads, which may hold nothing but such names."""
NAMED_BY_WORD = "combination-boiler"
"""How files begin in which a boiler's own word names its burner, beside a way that it has too."""
OUTCOMES = ("on", "off")
"""What a load or a heat source does; a setting's words are the author's."""


UNSEEN = {"row", "locks", "offers"}
"""Which terminals are neighbours; how an isolator is locked that stays shut on no job here; changes
that nobody asks for. Beside them only an expectation that nobody tries is not shown."""


def _inner(kind: Any) -> Any:
    """Return what a kind is besides nothing and its constraints."""
    if typing.get_origin(kind) in (typing.Union, types.UnionType):
        (kind,) = (each for each in typing.get_args(kind) if each is not type(None))
    return kind


def _free(field: Any, kind: Any) -> bool:
    constraints = [*field.metadata, *getattr(kind, "__metadata__", ())]
    patterns = [each.pattern for each in constraints if isinstance(each, StringConstraints)]
    base = typing.get_args(kind)[0] if hasattr(kind, "__metadata__") else kind
    return base is str and not any(patterns)


def spoilt(value: Any, kind: Any, field: Any = None) -> Any:
    """Return a value of a recipe with every free text in it spoilt."""
    kind = _inner(kind)
    if isinstance(value, str):
        return f"{value.strip()} {NASTY}" if _free(field, kind) and value not in OUTCOMES else value
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return _spoilt_shape(value, kind)
    arguments = typing.get_args(kind)
    if isinstance(value, dict):
        return {key: spoilt(each, arguments[1], field) for key, each in value.items()}
    if isinstance(value, list):
        return [spoilt(each, arguments[0], field) for each in value]
    return value


def _spoilt_shape(value: dict[str, Any], shape: type[BaseModel]) -> dict[str, Any]:
    fields = {field.alias or name: (name, field) for name, field in shape.model_fields.items()}
    return {key: each if (shape, fields[key][0]) in NAMES
            else spoilt(each, fields[key][1].annotation, fields[key][1])
            for key, each in value.items()}


def texts(value: Any) -> Iterator[str]:
    """Yield every spoilt text in a recipe that its pages show."""
    if isinstance(value, dict):
        for key, each in value.items():
            if key not in UNSEEN and value.get("tried") != "false":
                yield from texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from texts(each)
    elif isinstance(value, str) and NASTY in value:
        yield " ".join(value.split())


@pytest.fixture(scope="module")
def recipes(tmp_path_factory: pytest.TempPathFactory) -> dict[Path, Any]:
    project = copied(tmp_path_factory.mktemp("spoilt"))
    found = {}
    for path in sorted(project.glob("recipes/*/*.yaml")):
        text = path.read_text(encoding="utf-8")
        if not path.stem.startswith(NAMED_BY_WORD):
            # A heat source is named by its word, which is spoilt; its part alone means it too.
            text = text.replace("E1.burner", "E1")
        recipe = yaml.load(text, yaml.BaseLoader)
        found[path] = spoilt(recipe, KINDS[recipe["kind"]][0])
        if path.stem.startswith(NAMED_BY_WORD) and "heat" in recipe:
            found[path]["heat"]["word"] = recipe["heat"].get("word", "burner")
        path.write_text(yaml.safe_dump(found[path], allow_unicode=True, sort_keys=False),
                        encoding="utf-8")
    return found


@pytest.fixture(scope="module")
def site(recipes: dict[Path, Any]) -> Path:
    return build_site(next(iter(recipes)).parents[2] / "mkdocs.yml")


def test_every_kind_of_recipe_is_spoilt(recipes):
    assert sum(len(set(texts(recipe))) for recipe in recipes.values()) > 300


def test_no_text_becomes_an_element(site):
    for page in pages(site):
        assert not [said for _, said in read_page(page).tags if "onmouseover" in said], page
        assert "<b onmouseover" not in page.read_text(encoding="utf-8"), page


def test_search_holds_no_element_of_an_author(site):
    index = json.loads((site / "search/search_index.json").read_text(encoding="utf-8"))["docs"]
    said = [entry["title"] + entry["text"] for entry in index]
    assert not [each for each in said if "<b onmouseover" in each]
    assert sum("&lt;b onmouseover=x&gt;&amp;" in each for each in said) > 50


def test_every_text_arrives_as_it_was_written(site, recipes):
    seen = " ".join(read_page(page).text for page in pages(site))
    # Of the signs only those questions are asked, and those answers given, that tell systems apart.
    said = [(path.name, text) for path, recipe in recipes.items()
            if path.parent.name != "signs" for text in texts(recipe)]
    asked = [text for path, recipe in recipes.items() if path.parent.name == "signs"
             for text in texts(recipe) if text in seen]
    assert len(asked) > 5
    unit = next(recipe for path, recipe in recipes.items() if path.stem == "fused-connection-unit")
    assert NASTY in unit["locks"]
    assert unit["locks"] in seen
    assert not [(name, text) for name, text in said
                if text not in seen and text[:1].upper() + text[1:] not in seen]


@pytest.mark.drawing
def test_drawings_hold_the_texts_escaped(site):
    spoilt = """&lt;b onmouseover=x&gt;&amp;"'&lt;/b&gt;"""
    for page in [*site.glob("conversions/*/index.html"), *site.glob("systems/*/index.html")]:
        html = page.read_text(encoding="utf-8")
        assert re.search(rf"<title>-[A-Z]\d+ [^<]*{spoilt}</title>", html)
        assert re.search(r"<text[^>]*>[^<]*&lt;b", html)
        assert re.search(rf"<title>-W6.BK: .*{spoilt}.*</title>", html) or "W6" not in html


def test_findings_are_shown_as_text():
    place = Place(NASTY, 1, 1, NASTY, NASTY)
    finding = Finding(NASTY, Severity.ERROR, NASTY, (place,), NASTY, NASTY, NASTY,
                      ((NASTY, NASTY),), (NASTY,))
    page = read_html(findings_page(ROOT / "site_templates", (finding,)).body)
    assert not [said for _, said in page.tags if "onmouseover" in said]
    assert page.text.count(NASTY) == 11
