"""The key in words: numbered questions, what each answer leads to, and the systems it ends at."""

from __future__ import annotations

from dataclasses import dataclass

from generator.recipe.costs import Costs
from generator.recipe.met import AllMet, Met
from generator.sitework.key.cheapest import Cheapest
from generator.sitework.key.figures import Figures, figures
from generator.sitework.key.questions import asked
from generator.sitework.key.tree import Ask, End, Tree, asks, fitting

CANNOT = "cannot tell"


@dataclass(frozen=True)
class Reply:
    """An answer, and the number of the next question, or the systems that it can be then."""

    answer: str
    says: str
    then: int
    left: tuple[Met, ...] = ()


@dataclass(frozen=True)
class Step:
    """A numbered question; `opened` where a box is made dead and opened for it.

    A `detour` is met only after something could not be told. Whatever is seen that is not among the
    replies fits no system that is left.
    """

    number: int
    name: str
    asks: str
    look: str
    opened: bool
    detour: bool
    replies: tuple[Reply, ...]
    cannot: Reply


@dataclass(frozen=True)
class Key:
    """The whole key: its steps, or where there are none the systems that nothing tells apart.

    `unanswered` is how many questions on a way may stay open; `cost` the expected cost, and `exact`
    whether none is less.
    """

    met: AllMet
    steps: tuple[Step, ...]
    alike: tuple[Met, ...]
    figures: Figures
    cost: float
    exact: bool
    unanswered: int
    costs: Costs


def key(met: AllMet, costs: Costs) -> Key:
    """Return the key to the systems that are met."""
    search = Cheapest(asked(met, costs), costs.isolating)
    grown, unanswered = fitting(search, len(met.told))
    alike = tuple(met.told[i] for i in grown.systems) if isinstance(grown, End) else ()
    return Key(met, _steps(met, grown), alike,
               figures(search.questions, len(met.told), grown),
               search.expected(len(met.told)), search.exact, unanswered, costs)


def _steps(met: AllMet, grown: Tree) -> tuple[Step, ...]:
    numbers = {id(ask): number for number, ask in enumerate(asks(grown), 1)}
    straight = {id(ask) for ask in asks(grown, detours=False)}

    def reply(answer: str, says: str, then: Tree) -> Reply:
        if isinstance(then, End):
            return Reply(answer, says, 0, tuple(met.told[i] for i in then.systems))
        return Reply(answer, says, numbers[id(then)])

    def step(ask: Ask) -> Step:
        question = ask.asked.question
        replies = (reply(name, question.answers[name], then) for name, then in ask.answers)
        return Step(numbers[id(ask)], ask.asked.name, question.asks, question.look,
                    ask.asked.opened, id(ask) not in straight, tuple(replies),
                    reply(CANNOT, CANNOT, ask.cannot))

    return tuple(step(ask) for ask in asks(grown))
