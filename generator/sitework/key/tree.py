"""The key as a tree: what to ask, what each answer leads to, and where it ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from generator.sitework.key.cheapest import Cheapest
from generator.sitework.key.odds import Odds, answered, at_first, without
from generator.sitework.key.questions import Asked

MOST = 60
"""Questions on the page at most, as far as more than one that nobody can answer is allowed for."""


@dataclass(frozen=True, eq=False)
class End:
    """The systems that remain, by number: one, or some that nothing asked here tells apart."""

    systems: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Ask:
    """A question, what each answer leads to, and what to do where nobody can tell."""

    asked: Asked
    answers: tuple[tuple[str, Tree], ...]
    cannot: Tree


Tree = Ask | End
"""Equal trees are one and the same object. An answer that is not among a question's answers is
shown by none of the systems that remain: stop."""


def tree(search: Cheapest, systems: int, unanswered: int) -> Tree:
    """Return the key for so many systems; `unanswered` questions on a way are gone round.

    At one more the key ends with what remains.
    """
    return _Growing(search).grown(at_first(search.questions, systems), unanswered)


def fitting(search: Cheapest, systems: int, most: int = MOST) -> tuple[Tree, int]:
    """Return the key that goes round as many unanswered questions as `most` in all leave room for.

    One is always gone round. With it comes how many are.
    """
    first, found = at_first(search.questions, systems), tree(search, systems, 1)
    for unanswered in range(2, len(search.questions) + 1):
        try:
            found = _Growing(search, most).grown(first, unanswered)
        except _Overfull:
            return found, unanswered - 1
    return found, max(len(search.questions), 1)


def asks(tree: Tree, detours: bool = True) -> Iterator[Ask]:
    """Yield every question once, one before those it leads to, answers before detours."""
    known: set[int] = set()
    waiting = [tree]
    while waiting:
        ask = waiting.pop(0)
        if isinstance(ask, Ask) and id(ask) not in known:
            known.add(id(ask))
            yield ask
            around = [ask.cannot] if detours else []
            waiting = [*(then for _, then in ask.answers), *waiting, *around]


class _Overfull(Exception):
    """A key has more questions than it may have."""


@dataclass
class _Growing:
    search: Cheapest
    most: int | None = None
    known: dict[tuple[Odds, int], Tree] = field(default_factory=dict)
    ends: dict[tuple[int, ...], End] = field(default_factory=dict)
    made: dict[tuple[object, ...], Ask] = field(default_factory=dict)

    def grown(self, odds: Odds, unanswered: int) -> Tree:
        key = odds, unanswered
        if key not in self.known:
            self.known[key] = self._grown(odds, unanswered)
        return self.known[key]

    def _grown(self, odds: Odds, unanswered: int) -> Tree:
        first = self.search.best(odds).first
        if first is None:
            return self._end(odds)
        questions = self.search.questions
        answers = tuple((answer, self.grown(then, unanswered))
                        for answer, _, then in answered(questions, odds, first))
        cannot = self._end(odds) if not unanswered else self.grown(
            without(questions, odds, first), unanswered - 1)
        key = (first, *((answer, id(then)) for answer, then in answers), id(cannot))
        made = self.made.setdefault(key, Ask(questions[first], answers, cannot))
        if self.most is not None and len(self.made) > self.most:
            raise _Overfull
        return made

    def _end(self, odds: Odds) -> Tree:
        systems = tuple(i for i, part in enumerate(odds.parts) if part)
        return self.ends.setdefault(systems, End(systems))
