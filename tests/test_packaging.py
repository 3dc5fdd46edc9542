"""The README's two commands and the pins they install from."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
PINS = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
VERSIONS = {canonicalize_name(pin.split("==")[0]): pin.split("==")[1] for pin in PINS}
DECLARED = [*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["tests"]]

INSTALL = "python3 -m venv .venv && .venv/bin/pip install -q -c constraints.txt -e "


def test_the_readme_gives_exactly_the_two_commands():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    section = re.search(r"^## Two commands$(.*?)(?=^## |\Z)", readme, re.DOTALL | re.MULTILINE)
    assert section, "README.md has no section '## Two commands'"
    assert re.findall(r"^```sh\n(.*?)^```$", section[1], re.DOTALL | re.MULTILINE) == [
        INSTALL + ". && .venv/bin/handbook build\n",
        INSTALL + '".[tests]" && .venv/bin/pytest\n',
    ]


@pytest.mark.parametrize("pin", PINS)
def test_a_pin_is_a_name_and_one_version_and_nothing_else(pin):
    assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9._-]*==[0-9][A-Za-z0-9.!]*", pin)


@pytest.mark.parametrize("declared", DECLARED)
def test_every_declared_requirement_is_pinned_within_its_range(declared):
    requirement = Requirement(declared)
    pinned = VERSIONS[canonicalize_name(requirement.name)]
    assert requirement.specifier.contains(pinned)
