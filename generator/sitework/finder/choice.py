"""The tree of questions: at each step the one that tells most per cost, until none tells more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import log2

from generator.circuit.tables import states
from generator.recipe.costs import Costs
from generator.sitework.finder.complaints import Complaint
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.measurement import Kind, Measurement
from generator.sitework.finder.moving import Moves, Stand, after, cost, moves


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
    usable = [m for m in asked if not (complaint.trips and m.live)]
    telling = _telling(usable, complaint.suspects)
    groups = classes(complaint.suspects, telling)
    search = _Search(ground, costs, groups, sum(1 << group[0] for group in groups))
    return search.best(complaint.suspects, Stand(complaint.case.setting), None, telling)


def classes(suspects: int, asked: Sequence[Measurement]) -> tuple[tuple[int, ...], ...]:
    """Return suspects in classes: those in one class no question tells apart.

    A question that cannot be asked, or says less, while others are in question may tell more once
    they are not: so it is gone through until nothing changes.
    """
    groups, before = [suspects], 0
    while len(groups) != before:
        before = len(groups)
        for m in asked:
            groups = [mask for group in groups for mask in _parts(m, group)]
    return tuple(sorted(tuple(states(group)) for group in groups))


def _parts(m: Measurement, group: int) -> tuple[int, ...]:
    alone = not group & (group - 1)
    return (group,) if alone or m.unsafe & group else tuple(mask for _, mask in m.among(group))


def _telling(asked: Sequence[Measurement], suspects: int) -> tuple[Measurement, ...]:
    """Return the questions that tell these suspects apart, twice at most where they tell the same.

    The second is for whoever could not answer the first.
    """
    kept: dict[tuple[object, ...], list[Measurement]] = {}
    for m in asked:
        given = m.given(suspects)
        if len(given) > 1:
            key = (frozenset(given), m.unsafe & suspects, m.doubtful & suspects, m.live, m.at,
                   m.lids)
            alike = kept.setdefault(key, [])
            if len(alike) < 2:
                alike.append(m)
    return tuple(m for alike in kept.values() for m in alike)


@dataclass
class _Search:
    ground: Ground
    costs: Costs
    groups: tuple[tuple[int, ...], ...]
    firsts: int
    known: dict[tuple[int, Stand, Measurement | None], Tree] = field(default_factory=dict)
    made: dict[tuple[object, ...], Tree] = field(default_factory=dict)

    def best(self, suspects: int, stand: Stand, without: Measurement | None,
             asked: tuple[Measurement, ...]) -> Tree:
        """Return the tree for these suspects; `without` is what could not be measured before."""
        key = (suspects, stand, without)
        if key not in self.known:
            self.known[key] = self._best(suspects, stand, without, asked)
        return self.known[key]

    def _best(self, suspects: int, stand: Stand, without: Measurement | None,
              asked: tuple[Measurement, ...]) -> Tree:
        left = tuple(m for m in asked if len(m.given(suspects)) > 1)
        options = [self._option(stand, m, told) for m in left
                   if not m.unsafe & suspects
                   and not (without and self._barred(m, without, stand))
                   and (told := gain(m, suspects, self.firsts))]
        if not options:
            return self._end(suspects)
        _, wanted, made = max(options, key=lambda option: option[0])
        there = after(stand, wanted, made)
        answers = tuple((word, self.best(mask, there, without, left))
                        for word, mask in wanted.among(suspects))
        could_not = self._end(suspects) if without else self.best(suspects, stand, wanted, left)
        return self._once((wanted, made, *((word, id(then)) for word, then in answers),
                           id(could_not)), Ask(wanted, made, answers, could_not))

    def _option(self, stand: Stand, m: Measurement, told: float
                ) -> tuple[tuple[float, bool, float], Measurement, Moves]:
        made = moves(self.ground, stand, m)
        price = cost(self.costs, made)
        return (round(told / price, 9), not m.live, -price), m, made

    def _barred(self, m: Measurement, without: Measurement, stand: Stand) -> bool:
        """Tell whether a question needs what another could not be answered without.

        The same terminals; the same look at what runs; or a cover that stayed shut, if nothing is
        read live behind it.
        """
        if Kind.SEE in (m.kind, without.kind):
            return (m.kind, m.at) == (without.kind, without.at)
        shut = {*without.lids} - {*stand.opened} - self.ground.strips
        return m.terminals == without.terminals or not shut.isdisjoint(m.lids)

    def _end(self, suspects: int) -> Tree:
        return self._once((suspects,), End(tuple(
            group for group in self.groups if suspects >> group[0] & 1)))

    def _once(self, key: tuple[object, ...], tree: Tree) -> Tree:
        return self.made.setdefault(key, tree)


def gain(measurement: Measurement, suspects: int, firsts: int) -> float:
    """Return how many bits an answer tells of which class it is, each as likely as another.

    `firsts` is one suspect of each class.
    """
    sizes = [(mask & firsts).bit_count() for _, mask in measurement.among(suspects)]
    if len(sizes) < 2:
        return 0.0
    total = sum(sizes)
    return log2(total) - sum(size * log2(size) for size in sizes) / total
