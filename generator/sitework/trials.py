"""Which settings are tried with the supply on: the fewest that show what no dead test shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product

from generator.checks.subject import Subject
from generator.circuit.faults import Fault
from generator.circuit.flat import Condition
from generator.circuit.tables import Table, states
from generator.recipe.conversions import Expected
from generator.sitework.coverage import Coverage, Covered, Shows, differing
from generator.sitework.fewest import fewest
from generator.sitework.signs import Means, Shown, Sign

SUPPLYING = ("isolator", "fuse")
"""Kinds of switch that are worked, on or fitted, while the system is in use."""
ISOLATION_COST, CUT_OUT_COST, SWITCH_COST = 20, 10, 1
"""What moving a control is counted as when tests are put in order; a judgement, no source."""


@dataclass(frozen=True)
class Trial:
    """One setting of the switches: its name, the readings it needs, the faults first shown here."""

    name: str
    setting: int
    safety: bool
    reads: tuple[tuple[str, str], ...]
    shows: tuple[str, ...]


@dataclass(frozen=True)
class Trials:
    """The settings in the order in which they are tried, and how few there could be at least.

    `further` are the author's cases that are not among them; they show function, and no fault that
    was not shown before. `moved` are the switches that are set in any; `missed` are faults that
    would show only in a setting that nobody tries, as with one isolator off and another on.
    """

    trials: tuple[Trial, ...]
    further: tuple[Trial, ...]
    moved: tuple[int, ...]
    missed: tuple[Fault, ...]
    at_least: int
    reads_at_least: int


def trials(subject: Subject, coverage: Coverage, cases: Sequence[Expected] = ()) -> Trials:
    """Return the fewest trials that show every fault no dead test shows, in an order of few moves.

    Always among them: nothing calls; each cut-out tripped while everything calls, and after it its
    zone's own call; isolated while everything calls; and the cases the author marks as safety.
    """
    settings = _Settings(subject, coverage, [case for case in cases if case.safety and case.tried])
    remaining = [c for c in coverage.faults if Shows.DEAD not in c.shows and _live(c)]
    needs = [settings.bits(differing(c.signs, coverage.healthy)) for c in remaining]
    missed = tuple(c.fault for c, need in zip(remaining, needs, strict=True) if not need)
    chosen = fewest(needs, settings.given)
    order = settings.ordered(chosen.taken)
    reads, reads_at_least = _reads(settings, coverage, remaining, order)
    return Trials(tuple(_trials(settings, coverage, remaining, order, reads, cases)),
                  tuple(_further(settings, order, cases)), tuple(settings.moved), missed,
                  chosen.at_least, reads_at_least)


def _live(covered: Covered) -> bool:
    return Shows.FUNCTION in covered.shows or Shows.READING in covered.shows


class _Settings:
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
        isolators = self._union(v for v in self._kinds("isolator")
                                if self._changes(v, coverage.healthy))
        cut = [zone for zone in zones if any(v in tried for v, _ in zone.cut_out)]
        tripped = [calling | self._worked(zone.cut_out) for zone in cut]
        again = [self.in_use | self._worked(zone.call) for zone in cut]
        said = [self.of_case(case) for case in cases]
        isolated = calling & ~isolators
        options = (sum(bits) for bits in product(*((0, 1 << v) for v in self.moved)))
        wanted = (*(self.in_use | option for option in options), *said, isolated)
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


MOST_ORDERED = 11
"""Settings up to which the order is the best of all orders; above, the nearest comes next."""



def _reads(
    settings: _Settings, coverage: Coverage, remaining: list[Covered], order: tuple[int, ...]
) -> tuple[dict[int, list[tuple[str, str]]], int]:
    """Return the fewest readings, by setting, for what function does not show in these settings."""
    options: list[tuple[int, tuple[str, str]]] = []
    needs = []
    for covered in remaining:
        if any(_seen_at(settings, coverage, covered.signs, i) for i in order):
            continue
        need = 0
        for i in order:
            for pair in _read_at(settings, coverage, covered.signs, i):
                if (i, pair) not in options:
                    options.append((i, pair))
                need |= 1 << options.index((i, pair))
        needs.append(need)
    chosen = fewest(needs)
    by_setting: dict[int, list[tuple[str, str]]] = {}
    for number in chosen.taken:
        by_setting.setdefault(options[number][0], []).append(options[number][1])
    return by_setting, chosen.at_least


def _differ(settings: _Settings, coverage: Coverage, signs: Shown, at: int) -> Iterator[Sign]:
    setting = settings.all[at]
    return (sign for sign, table in coverage.healthy.items()
            if (table ^ signs[sign]) >> setting & 1)


def _seen_at(settings: _Settings, coverage: Coverage, signs: Shown, at: int) -> bool:
    return any(s.means is Means.SEEN for s in _differ(settings, coverage, signs, at))


def _read_at(settings: _Settings, coverage: Coverage, signs: Shown, at: int
             ) -> Iterator[tuple[str, str]]:
    return (s.terminals for s in _differ(settings, coverage, signs, at) if s.terminals)


def _trials(
    settings: _Settings, coverage: Coverage, remaining: list[Covered], order: tuple[int, ...],
    reads: dict[int, list[tuple[str, str]]], cases: Sequence[Expected],
) -> Iterator[Trial]:
    left = list(remaining)
    for i in order:
        wanted = tuple(reads.get(i, ()))
        shows = [c for c in left if _seen_at(settings, coverage, c.signs, i)
                 or set(wanted) & set(_read_at(settings, coverage, c.signs, i))]
        left = [c for c in left if c not in shows]
        yield Trial(_named(settings, i, cases), settings.all[i], i in settings.given, wanted,
                    tuple(c.fault.words for c in shows))


def _further(
    settings: _Settings, order: tuple[int, ...], cases: Sequence[Expected]
) -> Iterator[Trial]:
    """Yield what the author wants tried and no trial tries: it shows function, no further fault."""
    done = {settings.all[i] for i in order}
    for case in cases:
        setting = settings.of_case(case)
        if case.tried and setting not in done:
            done.add(setting)
            yield Trial(case.name, setting, False, (), ())


def _named(settings: _Settings, at: int, cases: Sequence[Expected]) -> str:
    """Return the author's name for a setting, or the settings themselves."""
    circuit, setting = settings.circuit, settings.all[at]
    words = {variable.name: variable.words[setting >> v & 1]
             for v, variable in enumerate(circuit.variables)}
    isolators = {variable.name for variable in circuit.variables if variable.kind == "isolator"}
    isolated = at == settings.given[-1]
    fitting = [c for c in cases if c.when.items() <= words.items()
               and bool(isolators & c.when.keys()) == isolated]
    if fitting:
        # A zone that is tried again after its cut-out is called by the safety case that says so.
        again = at in settings.again
        return max(fitting, key=lambda c: (len(c.when), c.safety if again else not c.safety)).name
    if isolated:
        return "Isolated while everything calls"
    moved = [f"{circuit.variables[v].name} {words[circuit.variables[v].name]}"
             for v in settings.moved if setting >> v & 1]
    return ", ".join(moved) or "Nothing calls"
