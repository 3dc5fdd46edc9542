"""Every part is tried in some table here, or says that its inside is not known."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.parts.bench import every_part, part

TABLES = "".join(path.read_text(encoding="utf-8") for path in sorted(
    Path(__file__).parent.glob("test_*.py")))


@pytest.mark.parametrize("name", every_part())
def test_every_part_stands_in_a_table(name: str) -> None:
    assert re.search(rf"(?<![a-z-]){name}(?![a-z-])", TABLES) or part(name).closed


@pytest.mark.parametrize("name", every_part())
def test_every_part_says_where_its_figures_come_from(name: str) -> None:
    known = ("common practice", "from memory", "BS ", "EN ", "Approved Document", "found in",
             "trade", "as commonly found")
    assert any(words in part(name).source for words in known)
