"""The tree of questions: at each step the one that tells most per cost, until none tells more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from generator.recipe.costs import Costs
from generator.sitework.finder.alike import classes, gain, telling_apart
from generator.sitework.finder.complaints import Complaint
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.measurement import Kind, Measurement, Need
from generator.sitework.finder.moving import Moves, Stand, after, cost, doubted, moves


@dataclass(frozen=True, eq=False)
class End:
    """Suspects that remain, as classes of numbers that no further question tells apart."""

    classes: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, eq=False)
class Ask:
    """A question: what is done for it, what each answer leads to, and what to do without it."""

    measurement: Measurement
    moves: Moves
    answers: tuple[tuple[str, Tree], ...]
    could_not: Tree


Tree = Ask | End
"""Equal trees are one and the same object."""


def tree(ground: Ground, complaint: Complaint, asked: Sequence[Measurement], costs: Costs) -> Tree:
    """Return the questions from a complaint to a class of faults that nothing tells apart.

    Greedy: information gained per cost, each class as likely as another; a dead test before a live
    one that serves as well. What could not be measured is left out from there on, once on a way;
    a second time the search ends with what remains.
    """
    usable = [m for m in asked if not (complaint.off and m.live)]
    telling = telling_apart(usable, complaint.suspects)
    groups = classes(complaint.suspects, telling)
    search = _Search(ground, costs, groups, sum(1 << group[0] for group in groups))
    return search.best(complaint.suspects, Stand(complaint.case.setting), None, telling)


@dataclass(frozen=True)
class _Without:
    """What could not be measured, and the covers that stayed shut at it."""

    measurement: Measurement
    shut: frozenset[str]


_Telling = tuple[tuple[Measurement, ...], tuple[tuple[Measurement, float], ...]]
"""Questions that tell some suspects apart; and those that may be asked, with what they tell."""


def _foremost(telling: Iterable[tuple[Measurement, float]]
              ) -> Iterator[tuple[Measurement, float]]:
    """Yield the first two of what needs the same and tells as much: one of them could be barred."""
    met = Counter[tuple[Need, float]]()
    for m, told in telling:
        met[m.need, told] += 1
        if met[m.need, told] <= 2:
            yield m, told


_Ways = dict[Need, tuple[Moves, float]]
"""From one stand: what is done for each need, and what it costs."""


@dataclass
class _Search:
    ground: Ground
    costs: Costs
    groups: tuple[tuple[int, ...], ...]
    firsts: int
    known: dict[tuple[int, Stand, _Without | None], Tree] = field(default_factory=dict)
    told: dict[int, _Telling] = field(default_factory=dict)
    ways: dict[Stand, _Ways] = field(default_factory=dict)
    made: dict[tuple[object, ...], Tree] = field(default_factory=dict)

    def best(self, suspects: int, stand: Stand, without: _Without | None,
             asked: tuple[Measurement, ...]) -> Tree:
        """Return the tree for these suspects; `without` is what could not be measured before."""
        key = (suspects, stand, without)
        if key not in self.known:
            self.known[key] = self._best(suspects, stand, without, asked)
        return self.known[key]

    def _best(self, suspects: int, stand: Stand, without: _Without | None,
              asked: tuple[Measurement, ...]) -> Tree:
        left, telling = self._telling(suspects, asked)
        ways = self.ways.setdefault(stand, {})
        options = [self._option(stand, ways, m, told) for m, told in telling
                   if not (without and self._barred(m, without))]
        if not options:
            return self._end(suspects)
        _, wanted, made = max(options, key=lambda option: option[0])
        there = after(stand, wanted, made)
        answers = tuple((word, self.best(mask, there, without, left))
                        for word, mask in wanted.among(suspects))
        could_not = self._end(suspects) if without else self.best(
            suspects, doubted(stand, made), self._without(stand, wanted), left)
        return self._once((wanted, made, *((word, id(then)) for word, then in answers),
                           id(could_not)), Ask(wanted, made, answers, could_not))

    def _telling(self, suspects: int, asked: tuple[Measurement, ...]) -> _Telling:
        """Return the questions that tell these suspects apart, however one came to them.

        `asked` may lack what tells none of them from another.
        """
        if suspects not in self.told:
            # The same as `given`, written out: a search does nothing more often.
            left = tuple([m for m in asked
                          if len([True for mask in m.masks if mask & suspects]) > 1])
            telling = [(m, told) for m in left if not m.unsafe & suspects
                       and (told := gain(m, suspects, self.firsts))]
            self.told[suspects] = left, tuple(_foremost(telling))
        return self.told[suspects]

    def _option(self, stand: Stand, ways: _Ways, m: Measurement, told: float
                ) -> tuple[tuple[bool, float, bool, float], Measurement, Moves]:
        if m.need not in ways:
            made = moves(self.ground, stand, m)
            ways[m.need] = made, cost(self.costs, made)
        made, price = ways[m.need]
        # Where a supply arrives is opened last, whatever it would tell.
        return (not made.fed, round(told / price, 9), not m.live, -price), m, made

    def _without(self, stand: Stand, m: Measurement) -> _Without:
        return _Without(m, frozenset(m.lids) - {*stand.opened} - self.ground.strips)

    def _barred(self, m: Measurement, without: _Without) -> bool:
        """Tell whether a question needs what another could not be answered without.

        The same terminals; the same look at what runs; or a cover that stayed shut, if nothing is
        read live behind it.
        """
        missed = without.measurement
        if Kind.SEE in (m.kind, missed.kind):
            return (m.kind, m.at) == (missed.kind, missed.at)
        return m.terminals == missed.terminals or not without.shut.isdisjoint(m.lids)

    def _end(self, suspects: int) -> Tree:
        return self._once((suspects,), End(tuple(
            group for group in self.groups if suspects >> group[0] & 1)))

    def _once(self, key: tuple[object, ...], tree: Tree) -> Tree:
        return self.made.setdefault(key, tree)
