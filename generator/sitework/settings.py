"""The settings of the controls that may be tried, what moving between them costs, their order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import product

from generator.checks.subject import Subject
from generator.circuit.elements import Condition
from generator.circuit.tables import Table, states
from generator.recipe.words import Expected
from generator.sitework.coverage import Coverage
from generator.sitework.signs import Shown

SUPPLYING = ("isolator", "fuse")
"""Kinds of switch that are worked, on or fitted, while the system is in use."""
ISOLATION_COST, CUT_OUT_COST, SWITCH_COST = 20, 10, 1
"""What moving a control is counted as when tests are put in order; a judgement, no source."""
MOST_ORDERED = 11
"""Settings up to which the order is the best of all orders; above, the nearest comes next."""


class Settings:
    """The settings that may be tried, by number.

    `given` are those always tried, from nothing calling to isolated; `tripped` those with a cut-out
    tripped; `again` those that try a zone once more after its cut-out was tried.
    """

    def __init__(self, subject: Subject, coverage: Coverage, cases: Sequence[Expected]) -> None:
        self.circuit, self.space = subject.circuit, subject.potentials.space
        tried = dict(coverage.site.cut_outs)
        self.in_use = self._union(v for v in self._kinds(*SUPPLYING))
        self.moved = [v for v in sorted({*self._kinds("call", "temperature"), *tried})
                      if self._matters(v, coverage)]
        zones = self.circuit.zones
        calling = self.in_use | self._worked(tuple(pair for z in zones for pair in z.call))
        # What isolates nothing that works stays on: a second supply must show while all is dead.
        isolating = [v for v in self._kinds("isolator") if self._changes(v, coverage.healthy)]
        isolators = self._union(isolating)
        cut = [zone for zone in zones if any(v in tried for v, _ in zone.cut_out)]
        tripped = [calling | self._worked(zone.cut_out) for zone in cut]
        again = [self.in_use | self._worked(zone.call) for zone in cut]
        said = [self.of_case(case) for case in cases]
        isolated = calling & ~isolators
        # With one supply off and another on, what joins the two shows, and nothing else shows it.
        one_off = [calling & ~(1 << v) for v in isolating]
        options = (sum(bits) for bits in product(*((0, 1 << v) for v in self.moved)))
        wanted = (*(self.in_use | option for option in options), *said, *one_off, isolated)
        self.all = tuple(dict.fromkeys(wanted))
        number = {setting: i for i, setting in enumerate(self.all)}
        first_to_last = (self.in_use, *tripped, *again, *said, isolated)
        given = dict.fromkeys(number[s] for s in first_to_last if s != isolated)
        self.given = (*given, number[isolated])
        self.again = frozenset(number[s] for s in again)
        cut_outs = self._union(tried)
        self.tripped = frozenset(i for s, i in number.items() if s & cut_outs)

    def _kinds(self, *kinds: str) -> Iterator[int]:
        return (v for v, each in enumerate(self.circuit.variables) if each.kind in kinds)

    @staticmethod
    def _union(variables: Iterable[int]) -> int:
        return sum(1 << v for v in variables)

    def _worked(self, condition: Condition) -> int:
        return self._union({v for v, value in condition if value})

    def of_case(self, case: Expected) -> int:
        """Return the setting that a case names: the supply on, the rest at rest."""
        setting = self.in_use
        for name, word in case.when.items():
            v = self.circuit.index[name]
            worked = self.circuit.variables[v].words[1] == word
            setting = setting | 1 << v if worked else setting & ~(1 << v)
        return setting

    def _matters(self, variable: int, coverage: Coverage) -> bool:
        shown = (coverage.healthy, *(c.signs for c in coverage.faults))
        return any(self._changes(variable, signs) for signs in shown)

    def _changes(self, variable: int, signs: Shown) -> bool:
        return any(self.space.flip(table, variable) != table for table in signs.values())

    def bits(self, table: Table) -> int:
        """Return which settings, by number, lie in a table."""
        return sum(1 << i for i, setting in enumerate(self.all) if table >> setting & 1)

    def cost(self, a: int, b: int) -> int:
        """Return what it costs to go from one setting to another."""
        costs = {"isolator": ISOLATION_COST, "cut-out": CUT_OUT_COST}
        changed = states(self.all[a] ^ self.all[b])
        return sum(costs.get(self.circuit.variables[v].kind, SWITCH_COST) for v in changed)

    def ordered(self, taken: Sequence[int]) -> tuple[int, ...]:
        """Return settings from nothing calling to isolated, with the least to move between."""
        start, end = self.given[0], self.given[-1]
        middle = frozenset(taken) - {start, end}
        if len(middle) > MOST_ORDERED:
            return (start, *self._nearest_next(start, middle), end)

        @cache
        def best(at: int, left: frozenset[int]) -> tuple[int, tuple[int, ...]]:
            if not left:
                return self.cost(at, end), ()
            ways = ((self.cost(at, to) + (tail := best(to, left - {to}))[0], (to, *tail[1]))
                    for to in self._next(left))
            return min(ways)

        return (start, *best(start, middle)[1], end)

    def _next(self, left: frozenset[int]) -> list[int]:
        """Return what may come next: a zone is tried again only after its cut-out was."""
        return sorted(left - self.again if left & self.tripped else left)

    def _nearest_next(self, at: int, left: frozenset[int]) -> Iterator[int]:
        while left:
            at = min(self._next(left), key=lambda to: self.cost(at, to))
            left -= {at}
            yield at
