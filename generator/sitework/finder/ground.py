"""What the search for a fault may use on a wall: settings to try, lids, and what is healthy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.checks.subject import Subject
from generator.circuit.elements import part_of
from generator.circuit.tables import Table
from generator.recipe.words import Expected
from generator.sitework.coverage import Coverage
from generator.sitework.settings import SUPPLYING
from generator.sitework.signs import Means, Shown, Sign, Site


@dataclass(frozen=True)
class Case:
    """A setting of the controls with the supply on, and what people call it."""

    name: str
    setting: int


@dataclass(frozen=True)
class Ground:
    """A system as it is searched: the settings that are tried, and the healthy signs."""

    subject: Subject
    site: Site
    healthy: Shown
    cases: tuple[Case, ...]

    @cached_property
    def seen(self) -> tuple[Sign, ...]:
        """What can be seen or heard without a tester; a supply that trips stands apart."""
        supplies = {supply.name for supply in self.subject.circuit.supplies}
        return tuple(sign for sign in self.healthy if sign.means is Means.SEEN
                     and sign.what not in supplies and self._shows(sign))

    def _shows(self, sign: Sign) -> bool:
        """Tell whether anybody sees it: of electronics, those that light a lamp or display.

        They are on in every case; what comes and goes is a feed inside a valve's head or a gas
        valve, which nobody sees (common practice, no source).
        """
        load = self.subject.circuit.load.get(sign.what)
        if load is None or load.kind != "electronics":
            return True
        lit = all(self.healthy[sign] >> case.setting & 1 for case in self.cases)
        return lit and self.subject.wall.parts[load.part].part.letter != "M"

    @cached_property
    def read(self) -> tuple[tuple[str, str], ...]:
        """The pairs of terminals that are read with the supply on."""
        return tuple(dict.fromkeys(sign.terminals for sign in self.healthy if sign.terminals))

    @cached_property
    def dials(self) -> int:
        """The switches that a dial sets, as bits: they can be turned while all is dead."""
        return union(self.subject, "temperature")

    @cached_property
    def strips(self) -> frozenset[str]:
        """The boxes in which a reading is taken with the supply on."""
        return frozenset(self.box(end) for pair in self.read for end in pair)

    @cached_property
    def fed(self) -> frozenset[str]:
        """The enclosures at which a supply arrives: their own switch cannot make all of it dead."""
        return frozenset(self.box(end) for s in self.subject.circuit.supplies
                         for end in (s.line, s.neutral))

    @cached_property
    def idle(self) -> frozenset[str]:
        """The parts out of service: nothing lands on them but earth, so they serve nothing."""
        circuit = self.subject.circuit
        served = {t.part for t in circuit.terminals
                  if t.carries != "earth" and self.subject.landed(t.name)}
        return frozenset(t.part for t in circuit.terminals) - served

    @cached_property
    def _positions(self) -> tuple[Table, ...]:
        names = {variable.name for variable in self.subject.circuit.variables if variable.moves}
        return tuple(self.healthy[sign] for sign in self.seen if sign.what in names)

    def moved(self, setting: int) -> tuple[int, ...]:
        """Return which positions are worked, 1 or 0, once a healthy system has settled."""
        return tuple(table >> setting & 1 for table in self._positions)

    def box(self, terminal: str) -> str:
        """Return the enclosure that is opened to see a terminal, or to read at it."""
        return self.subject.outermost(part_of(terminal))

    def lid(self, terminal: str) -> str:
        """Return what is opened to meter at a terminal; nothing for earthed metal of a box."""
        part, box = part_of(terminal), self.box(terminal)
        earthed = self.subject.circuit.terminal[terminal].carries == "earth"
        bare = part == box and self.subject.wall.parts[part].part.protection == "class I"
        return "" if earthed and bare else box

    def competences(self, box: str) -> frozenset[str]:
        """Return what a person must be competent for who opens a box, by the parts in it."""
        parts = self.subject.wall.parts
        return frozenset(parts[part].part.competence for part in parts
                         if self.subject.outermost(part) == box)


def union(subject: Subject, *kinds: str) -> int:
    """Return the switches of these kinds, as bits."""
    return sum(1 << v for v, each in enumerate(subject.circuit.variables) if each.kind in kinds)


def ground(subject: Subject, coverage: Coverage, expected: Sequence[Expected] = ()) -> Ground:
    """Return the settings to search in: the author's cases, or each zone's call if there are none.

    A case with its supply off or a cut-out tripped is no complaint: nothing should run then.
    """
    named: dict[int, str] = {}
    for case in _said(subject, expected) if expected else _by_zone(subject):
        named.setdefault(case.setting, case.name)
    return Ground(subject, coverage.site, coverage.healthy,
                  tuple(Case(name, setting) for setting, name in named.items()))


def _said(subject: Subject, expected: Sequence[Expected]) -> Iterator[Case]:
    on, tripped = union(subject, *SUPPLYING), union(subject, "cut-out")
    for case in expected:
        setting = on
        for name, word in case.when.items():
            v = subject.circuit.index[name]
            worked = subject.circuit.variables[v].words[1] == word
            setting = setting | 1 << v if worked else setting & ~(1 << v)
        if case.tried and setting & on == on and not setting & tripped:
            yield Case(case.name, setting)


def _by_zone(subject: Subject) -> Iterator[Case]:
    on, zones = union(subject, *SUPPLYING), subject.circuit.zones
    calls = {zone.name: sum(1 << v for v, value in dict(zone.call).items() if value)
             for zone in zones}
    yield Case("Nothing calls", on)
    for name, call in calls.items():
        yield Case(f"{_capital(name)} calls", on | call)
    everything = on
    for call in calls.values():
        everything |= call
    yield Case("Everything calls", everything)


def _capital(name: str) -> str:
    words = name.replace("-", " ")
    return words[:1].upper() + words[1:]
