"""The fewest choices against every set of choices, one after the other."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.sitework import fewest as module
from generator.sitework.fewest import fewest

CHOICES = 7


def serves(taken: tuple[int, ...], needs: list[int]) -> bool:
    bits = {1 << choice for choice in taken}
    return all(any(need & bit for bit in bits) for need in needs if need)


def smallest(needs: list[int], given: tuple[int, ...]) -> int:
    """Return how many choices are needed, by trying all sets from the smallest on."""
    return next(size for size in range(CHOICES + 1)
                for more in combinations(range(CHOICES), size)
                if set(given) <= set(more) and serves(more, needs))


needed = st.lists(st.integers(0, 2**CHOICES - 1), max_size=12)
always = st.lists(st.integers(0, CHOICES - 1), max_size=3, unique=True).map(tuple)


@settings(max_examples=300, deadline=None)
@given(needed, always)
def test_the_fewest_serve_every_need_and_no_set_is_smaller(
    needs: list[int], given_in: tuple[int, ...]
) -> None:
    chosen = fewest(needs, given_in)
    assert serves(chosen.taken, needs)
    assert chosen.taken[:len(given_in)] == given_in
    assert len(chosen.taken) == len(set(chosen.taken)) == smallest(needs, given_in)
    assert chosen.at_least == len(chosen.taken)


@settings(max_examples=200, deadline=None)
@given(needed, always, st.integers(0, 6))
def test_a_search_that_is_cut_short_serves_every_need_and_never_says_too_high_a_bound(
    needs: list[int], given_in: tuple[int, ...], steps: int
) -> None:
    before, module.MOST_STEPS = module.MOST_STEPS, steps
    try:
        chosen = fewest(needs, given_in)
    finally:
        module.MOST_STEPS = before
    assert serves(chosen.taken, needs)
    assert chosen.at_least <= smallest(needs, given_in) <= len(chosen.taken)


def test_the_nearest_best_choice_is_not_always_among_the_fewest() -> None:
    # The classic trap for taking the choice that serves most: 2 serve 4 of 6, yet 0 and 1 suffice.
    needs = [0b101, 0b101, 0b001, 0b110, 0b110, 0b010]
    assert fewest(needs).taken == (0, 1)
