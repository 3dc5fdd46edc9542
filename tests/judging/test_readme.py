"""The variant that the README shows is one that can be used as it stands there."""

from __future__ import annotations

import re
from pathlib import Path

from generator.judging.recipes import judge
from generator.recipe.library import Library
from tests.checks.edited import RECIPES
from tests.judging.written import written

README = Path(__file__).parents[2] / "README.md"


def test_the_variant_in_the_readme_is_sound():
    (text,) = re.findall(r"```yaml\n(kind: variant\n.*?)```", README.read_text("utf-8"), re.DOTALL)
    library = Library(RECIPES)
    (judged,) = judge(library, written(library, "systems/as-in-the-readme.yaml", text))
    assert judged.findings == ()
