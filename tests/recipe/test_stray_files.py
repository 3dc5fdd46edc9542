"""Every file below the recipes folder is read, or refused where it stands: none is passed over."""

import shutil
from pathlib import Path

import pytest

from generator.recipe.library import Library
from generator.reports.findings_text import finding_text
from tests.recipe.mistakes import SOUND, mistakes_in

FOLDERS = ("`parts/name.yaml`, `signs/name.yaml`, `systems/name.yaml`, `conversions/name.yaml` "
           "or `costs/name.yaml`")
SYSTEM = SOUND / "systems" / "one-zone.yaml"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    shutil.copytree(SOUND, tmp_path / "recipes")
    return tmp_path / "recipes"


def put(root: Path, where: str, source: Path = SYSTEM) -> Path:
    path = root / where
    path.parent.mkdir(exist_ok=True)
    shutil.copy(source, path)
    return path


@pytest.mark.parametrize(("where", "hint"), [
    ("systems/q.yml", "rename it to `q.yaml`"),
    ("systems/Q.YAML", "rename it to `Q.yaml`"),
    ("systems/q.txt", "rename it to `q.yaml`"),
    ("systems/sub/y.yaml", "move it into one of these folders, or out of the recipes"),
    ("x.yaml", "move it into one of these folders, or out of the recipes"),
    ("system/x.yaml", "move it into one of these folders, or out of the recipes"),
])
def test_a_file_that_no_recipe_is_read_from_is_refused(root, where, hint):
    path = put(root, where)
    assert Library(root).below(root)[-1] == path
    (said,) = mistakes_in(path, root)
    assert finding_text(said) == "\n".join([
        f"recipes/{where}:1:1: error: wrong-file-name: No recipe is read from this file.",
        f"   found: `{where}`", f"   expected: {FOLDERS}", f"   hint: {hint}"])


@pytest.mark.parametrize("where", ["systems/.q.yaml.swp", ".git/x.yaml", "systems/one-zone.yaml~"])
def test_hidden_files_and_copies_of_an_editor_are_none(root, where):
    before = Library(root).below(root)
    put(root, where)
    assert Library(root).below(root) == before


def test_recipes_come_in_the_order_in_which_they_build_up(root):
    folders = [path.parent.name for path in Library(root).below(root)]
    assert list(dict.fromkeys(folders)) == ["parts", "systems", "conversions"]
    assert folders == sorted(folders, key=["parts", "systems", "conversions"].index)


def test_a_recipe_outside_is_read_beside_the_others(root, tmp_path):
    assert mistakes_in(put(tmp_path, "draft.yml"), root) == ()


@pytest.mark.parametrize(("folder", "kind", "expected"), [
    ("systems", "part", "`kind: system` or `kind: variant`; or the folder `parts`"),
    ("conversions", "system", "`kind: conversion`; or the folder `systems`"),
    ("parts", "conversion", "`kind: part` or `kind: cable`; or the folder `conversions`"),
])
def test_a_wrong_kind_is_one_mistake(root, folder, kind, expected):
    path = sorted((root / folder).glob("*.yaml"))[0]
    own = "cable" if "flex" in path.name else folder[:-1]
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(f"kind: {own}\n", f"kind: {kind}\n", 1), encoding="utf-8")
    (said,) = mistakes_in(path, root)
    assert (said.rule, said.message) == ("wrong-kind", f"A {kind} does not belong in this folder.")
    assert (said.found, said.expected) == (
        f"`kind: {kind}` in the folder `{folder}`", expected)


def test_what_uses_a_part_is_found_though_it_cannot_be_read(root):
    users = [path.stem for path in Library(root).users("two-port-valve")]
    assert users == ["one-zone-found", "one-zone", "small"]
    (root / "systems" / "one-zone.yaml").write_text("parts: [two-port-valve", encoding="utf-8")
    assert [path.stem for path in Library(root).users("two-port-valve")] == users
    assert Library(root).users("valve-flex-5-core") == ()
