"""Lanes of a channel, against a slow walk through all orders of its wires."""

from itertools import combinations, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.pages.drawings.lanes import CLASH, Run, bundled, laned, run


@st.composite
def channels(draw: st.DrawFn, most: int) -> list[Run]:
    """Wires across or back to the same side; each side has a height only once."""
    column = draw(st.permutations(range(0, 96, 8)))
    spine = draw(st.permutations(range(0, 96, 8)))
    runs = []
    for number in range(draw(st.integers(1, most))):
        beside, at_spine = draw(st.sampled_from([(1, 1), (1, 1), (2, 0), (0, 2)]))
        ends = [column.pop() for _ in range(beside)], [spine.pop() for _ in range(at_spine)]
        runs.append(run(f"W{number}", *ends))
    return runs


def walked(order: tuple[Run, ...]) -> int:
    """Crossings counted piece by piece on a grid, lane by lane; CLASH where pieces overlap."""
    places = {each.key: index for index, each in enumerate(order)}
    level = [
        (each, height, range(-1, places[each.key])) for each in order for height in each.column
    ] + [
        (each, height, range(places[each.key] + 1, len(order) + 1))
        for each in order
        for height in each.spine
    ]
    total = 0
    for each, height, lanes in level:
        for other in order:
            if other is not each and places[other.key] in lanes:
                ends = {other.top, other.bottom}
                total += CLASH if height in ends else other.top < height < other.bottom
    return total


def upright(runs: list[Run]) -> list[Run]:
    return [each for each in runs if not each.level]


def best(runs: list[Run]) -> int:
    """The fewest crossings of all orders; level wires cross the same wires in each."""
    through = sum(
        other.top < each.top < other.bottom
        for each in runs
        if each.level
        for other in upright(runs)
    )
    return through + min(walked(order) for order in permutations(upright(runs)))


@settings(max_examples=400, deadline=None)
@given(channels(4))
def test_no_order_of_four_lanes_has_fewer_crossings(runs: list[Run]) -> None:
    least = best(runs)
    found = laned(bundled(runs)).crossings
    assert found == least if least < CLASH else found >= CLASH


@settings(max_examples=200, deadline=None)
@given(channels(6))
def test_wires_clash_only_where_every_order_clashes(runs: list[Run]) -> None:
    assert (laned(bundled(runs)).crossings >= CLASH) == (best(runs) >= CLASH)


@settings(max_examples=200, deadline=None)
@given(channels(5))
def test_no_order_has_fewer_crossings_than_what_is_counted_before_any_is_tried(
    runs: list[Run],
) -> None:
    bundle = bundled(runs)
    assert bundle.least + bundle.through <= min(best(runs), laned(bundle).crossings)


@settings(max_examples=200, deadline=None)
@given(channels(5))
def test_lanes_hold_what_was_counted(runs: list[Run]) -> None:
    lanes = laned(bundled(runs))
    if lanes.crossings >= CLASH:
        return
    for a, b in combinations(upright(runs), 2):
        abreast = a.top <= b.bottom and b.top <= a.bottom
        assert not abreast or lanes.of[a.key] != lanes.of[b.key]
    order = tuple(sorted(upright(runs), key=lambda each: lanes.of[each.key]))
    through = best(runs) - min(walked(each) for each in permutations(upright(runs)))
    assert walked(order) + through == lanes.crossings


@settings(max_examples=200, deadline=None)
@given(channels(5))
def test_wires_abreast_need_as_many_lanes(runs: list[Run]) -> None:
    """The density of a channel bounds its lanes from below (Hashimoto and Stevens 1971)."""
    density = max(
        sum(each.top <= height <= each.bottom for each in upright(runs)) for height in range(0, 96)
    )
    assert density <= laned(bundled(runs)).count <= len(upright(runs))


def test_wires_below_each_other_share_one_lane() -> None:
    apart = [run("W1", [0], [8]), run("W2", [16], [24]), run("W3", [32], [40])]
    assert laned(bundled(apart)).of == {"W1": 0, "W2": 0, "W3": 0}


def test_of_two_ends_level_with_each_other_the_one_at_the_column_turns_first() -> None:
    level = [run("W1", [40], [0]), run("W2", [0], [80])]
    assert laned(bundled(level)).of == {"W2": 0, "W1": 1}


def test_a_circle_of_musts_shows_as_a_clash() -> None:
    assert laned(bundled([run("W1", [0], [40]), run("W2", [40], [0])])).crossings >= CLASH


def test_a_level_wire_has_no_lane_and_crosses_what_runs_past_it() -> None:
    lanes = laned(bundled([run("W1", [16], [16]), run("W2", [0], [40])]))
    assert lanes.of == {"W2": 0}
    assert lanes.crossings == 1


def test_a_link_keeps_next_to_the_spine() -> None:
    lanes = laned(bundled([run("link", [], [0, 8]), run("W1", [40], [80]), run("W2", [48], [72])]))
    assert lanes.of["link"] == lanes.count - 1 == 1
