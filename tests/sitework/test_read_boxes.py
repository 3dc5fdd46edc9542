"""A box that is opened only to be read at is proved dead before its cover comes off."""

from __future__ import annotations

import pytest

from generator.circuit.elements import part_of
from generator.sitework.dead_stages import work_dead_points
from generator.sitework.signs import ways
from tests.sitework.jobs import CONVERSIONS, combinations

WIRED = "wired-programmer-to-wireless-two-zone"


def test_the_strip_is_proved_dead_where_only_the_programmers_plate_changes():
    done = next(each for each in combinations(WIRED)
                if "B2" in each.job.fitted.wall.parts)
    assert "X1" not in done.place.opened
    point = next(each for each in work_dead_points(done) if each.part == "X1")
    assert {row.terminal for row in point.rows} == {f"X1:{n}" for n in range(1, 13)}


@pytest.mark.parametrize("name", CONVERSIONS)
def test_every_box_that_was_there_and_is_read_at_is_proved_dead(name):
    for done in combinations(name):
        read = {part_of(t) for t in ways(done.job.fitted)} & done.job.found.wall.parts.keys()
        assert read <= {point.part for point in work_dead_points(done)}
