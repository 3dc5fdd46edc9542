"""What was judged is kept until something that it rests on changes."""

from __future__ import annotations

from pathlib import Path

from generator.judging.memory import Memory
from generator.pipeline import check
from tests.pages.project import copied

USER, PART = "systems/combination-boiler-wireless.yaml", "parts/receiver-one-channel-volt-free.yaml"
OTHER = "systems/mid-position-vented-cylinder.yaml"


def test_only_what_rests_on_a_changed_file_is_judged_again(tmp_path: Path):
    recipes = copied(tmp_path) / "recipes"
    files = [recipes / name for name in (USER, OTHER)]
    memory = Memory()
    first, other = check(recipes, files, judge=memory).judged
    again = check(recipes, files, judge=memory).judged
    assert again[0] is first
    assert again[1] is other
    (recipes / PART).write_text((recipes / PART).read_text("utf-8") + "# seen\n", "utf-8")
    anew = check(recipes, files, judge=memory).judged
    assert anew[0] is not first
    assert anew[1] is other


def test_a_mistake_is_told_again_each_time_and_gone_when_mended(tmp_path: Path):
    recipes = copied(tmp_path) / "recipes"
    memory, path = Memory(), recipes / PART
    text = path.read_text("utf-8")
    path.write_text(text.replace("competence: electrical", "competence: elctrical"), "utf-8")
    told = [check(recipes, [path], judge=memory).findings for _ in range(2)]
    assert told[0] == told[1]
    assert told[0]
    path.write_text(text, "utf-8")
    assert check(recipes, [path], judge=memory).findings == ()
