"""What the page that leads to the right conversion says: the key, and how each system looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.recipe.costs import Costs
from generator.recipe.met import AllMet, Met
from generator.recipe.wall import Wall
from generator.sitework.key.questions import AFTER
from generator.sitework.key.steps import Key, key

FUELS = {
    "gas": "For natural gas. Oil, LPG or solid fuel: stop, another register or category.",
    "oil": "For oil. Gas, LPG or solid fuel: stop, another register.",
}
"""What a page is for, by who may open the boiler on it; common practice, no source."""


@dataclass(frozen=True)
class Look:
    """A question in words, and what may be seen of one system; nothing where it can be any."""

    asks: str
    says: tuple[str, ...]


@dataclass(frozen=True)
class LooksView:
    """A system, and everything it shows before and after opening."""

    met: Met
    before: tuple[Look, ...]
    after: tuple[Look, ...]


@dataclass(frozen=True)
class WhichView:
    """The key, the looks of every system that is in it, and by name what fuel each is for."""

    key: Key
    looks: tuple[LooksView, ...]
    fuels: dict[str, tuple[str, ...]]


def which_view(met: AllMet, costs: Costs, walls: tuple[Wall, ...] = ()) -> WhichView:
    """Return the key to the systems that are met, each with all it shows."""
    return WhichView(key(met, costs), tuple(_looks(met, each) for each in met.told),
                     {wall.name: _fuels(wall) for wall in walls})


def _fuels(wall: Wall) -> tuple[str, ...]:
    """Return what the boilers of a system burn, as it is said at an end of the key."""
    burn = dict.fromkeys(part.part.competence for part in wall.parts.values() if part.part.heat)
    return tuple(FUELS[fuel] for fuel in burn if fuel in FUELS)


def _looks(met: AllMet, one: Met) -> LooksView:
    return LooksView(one, tuple(_shown(met, one, opened=False)),
                     tuple(_shown(met, one, opened=True)))


def _shown(met: AllMet, one: Met, opened: bool) -> Iterator[Look]:
    for name, question in met.signs.questions.items():
        if (question.when == AFTER) is opened and (answers := one.answers(name)):
            yield Look(question.asks, tuple(question.answers[answer] for answer in answers))
