"""What the key costs: the least there is, held against every order of questions there can be."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from math import log2

import pytest
from hypothesis import HealthCheck, given, settings

from generator.recipe.costs import USUAL
from generator.recipe.met import AllMet
from generator.sitework.key.cheapest import Cheapest
from generator.sitework.key.figures import figures
from generator.sitework.key.questions import asked
from generator.sitework.key.steps import key
from generator.sitework.key.tree import tree
from tests.sitework.met_systems import made, met, question

calm = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
World = tuple[int, tuple[str, ...], Fraction]
"""A system, what it shows to each question this time, and how likely that is."""


def worlds(systems: AllMet) -> list[World]:
    """Every system, each as likely; each combination of answers that it may show, likewise."""
    found = []
    for i, one in enumerate(systems.told):
        shown = [one.answers(name) or tuple(each.answers)
                 for name, each in systems.signs.questions.items()]
        vectors = list(product(*shown))
        found += [(i, vector, Fraction(1, len(systems.told) * len(vectors))) for vector in vectors]
    return found


def price(systems: AllMet, name: str, opened: bool) -> Fraction:
    """A look 1, a try 5, opening 3 more and isolating 3 once: the usual judgement, no source."""
    each = systems.signs.questions[name]
    after = each.when == "after opening"
    return Fraction(1 + 4 * (each.takes == "a try") + 3 * after + 3 * (after and not opened))


def by_hand(systems: AllMet, there: Sequence[World], left: tuple[int, ...], opened: bool
            ) -> Fraction:
    """Try every question at every step: the least cost, weighed by how likely these worlds are.

    It goes on while a question that is left can rule out one of the systems.
    """
    names = [*systems.signs.questions]
    options = []
    for q in left:
        answers: dict[str, list[World]] = {}
        for world in there:
            answers.setdefault(world[1][q], []).append(world)
        those = {world[0] for world in there}
        if any({world[0] for world in part} != those for part in answers.values()):
            after = systems.signs.questions[names[q]].when == "after opening"
            rest = tuple(each for each in left if each != q)
            share = sum((world[2] for world in there), Fraction(0))
            options.append(share * price(systems, names[q], opened) + sum(
                (by_hand(systems, part, rest, opened or after) for part in answers.values()),
                Fraction(0)))
    return min(options, default=Fraction(0))


@calm
@given(made(systems=5, questions=4))
def test_no_order_of_questions_costs_less(systems: AllMet) -> None:
    found = key(systems, USUAL)
    every = tuple(range(len(systems.signs.questions)))
    assert found.exact
    assert found.cost == pytest.approx(float(by_hand(systems, worlds(systems), every, False)))


@calm
@given(made())
def test_it_never_costs_more_than_asking_everything_in_order(systems: AllMet) -> None:
    opened, total = False, Fraction(0)
    for name, each in systems.signs.questions.items():
        total += price(systems, name, opened)
        opened = opened or each.when == "after opening"
    assert key(systems, USUAL).cost <= total + 1e-9


@calm
@given(made())
def test_the_bound_holds_and_the_worst_is_no_better_than_the_mean(systems: AllMet) -> None:
    found = key(systems, USUAL).figures
    assert found.bound - 1e-9 <= found.expected <= found.worst + 1e-9
    assert found.worst <= len(systems.signs.questions)


def test_the_bound_is_met_where_every_answer_tells_as_much_as_it_can() -> None:
    # Shannon 1948, theorem 9, for two answers: 8 systems as likely as each other take 3 questions.
    signs = {f"q{i}": question("a", "b") for i in range(3)}
    systems = met(signs, [dict(zip(signs, map(list, word), strict=True))
                          for word in product("ab", repeat=3)])
    found = key(systems, USUAL)
    assert (found.figures.expected, found.figures.bound, found.cost) == (3, log2(8), 3)


@calm
@given(made())
def test_past_enough_cases_it_is_still_right_and_says_that_it_may_cost_more(systems: AllMet
                                                                           ) -> None:
    questions = asked(systems, USUAL)
    count = len(systems.told)
    least, greedy = (Cheapest(questions, USUAL.isolating, enough) for enough in (10**6, -1))
    plain, quick = tree(least, count, 1), tree(greedy, count, 1)
    assert least.exact
    assert greedy.expected(count) >= least.expected(count) - 1e-9
    # Both end at the same systems: what is told apart in the end hangs on no order.
    bits = [figures(questions, count, each) for each in (plain, quick)]
    assert bits[0].bound == pytest.approx(bits[1].bound)
    assert greedy.exact == (greedy.expected(count) == 0)
