"""Which single faults show on site, and how: by function, a reading, dead, a look, or never."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain

from generator.checks.subject import Subject
from generator.circuit.faults import Fault, FaultKind, single_faults
from generator.circuit.flat import Circuit, Variable, part_of
from generator.circuit.potentials import solve
from generator.circuit.tables import Table
from generator.sitework.dead_tests import DeadTests, dead_tests, failing
from generator.sitework.signs import (
    Groups,
    Means,
    Shown,
    Site,
    colours,
    dead_states,
    joined_dead,
    shown,
    site,
)


class Shows(StrEnum):
    """How a fault is found, the surest way that finds it."""

    FUNCTION = "by function"
    READING = "by a reading"
    DEAD = "only dead"
    LOOKING = "only by looking"
    NEVER = "never"


CUT_OUT = "a cut-out is tried only as its maker says"
IDLE = "nothing in service differs"
SHUT = "in a part that this job does not open"
SAME = "no terminal differs in any state that can come about"
MISSED = "no terminal in reach differs"
"""Why a fault never shows; only the last is a gap in the tests."""


@dataclass(frozen=True)
class Covered:
    """A fault, every way in which it shows, and the signs it shows by, setting by setting.

    `failing` are the dead tests that read wrong, by number; `dead` is all that an ohmmeter could
    find joined, for each dead state.
    """

    fault: Fault
    shows: tuple[Shows, ...]
    signs: Shown
    failing: tuple[int, ...]
    dead: tuple[tuple[Groups, Groups], ...]
    why_never: str = ""

    @property
    def missed(self) -> bool:
        """Whether it makes a difference and nothing on site shows it."""
        return self.why_never == MISSED

    @property
    def surest(self) -> Shows:
        """The first way in which it shows."""
        return self.shows[0] if self.shows else Shows.NEVER


@dataclass(frozen=True)
class Coverage:
    """All single faults of a system, and the healthy signs they are held against."""

    site: Site
    healthy: Shown
    dead_tests: DeadTests
    faults: tuple[Covered, ...]

    def count(self, kind: FaultKind, shows: Shows) -> int:
        """Return how many faults of a kind show first in this way."""
        return sum(1 for c in self.faults if c.fault.kind is kind and c.surest is shows)


def coverage(subject: Subject, opened: Collection[str] | None = None) -> Coverage:
    """Return every single fault of a system with how it shows where these parts are opened.

    If they are not said, every part is opened that has something landed in it.
    """
    circuit, reached = subject.circuit, site(subject, opened)
    healthy = shown(circuit, reached)
    dead = dead_states(circuit)
    tests = dead_tests(subject, reached)
    landed = colours(circuit, reached)

    def covered(fault: Fault) -> Covered:
        signs = shown(fault.circuit, reached)
        ways = tuple(_ways(signs, healthy))
        found = joined_dead(fault.circuit, reached, dead)
        direct = {state: joints for state, (joints, _) in zip(dead, found, strict=True)}
        wrong = failing(tests, fault.circuit, reached, direct)
        if wrong:
            ways += (Shows.DEAD,)
        # A core may be broken inside its sheath, where nobody sees it.
        if fault.kind is not FaultKind.OPEN and colours(fault.circuit, reached) != landed:
            ways += (Shows.LOOKING,)
        why = "" if ways else _why_never(subject, fault, opened)
        return Covered(fault, ways, signs, wrong, found, why)

    return Coverage(reached, healthy, tests, tuple(map(covered, single_faults(circuit))))


def classes(coverage: Coverage) -> tuple[tuple[Covered, ...], ...]:
    """Return the faults in groups that nothing seen, read or measured dead tells apart.

    Faults that never show are a group of their own: they look like a healthy system. Within a group
    only looking may still tell which it is.
    """
    groups: dict[object, list[Covered]] = {}
    for covered in coverage.faults:
        alike = (tuple(covered.signs[sign] for sign in coverage.healthy), covered.dead)
        groups.setdefault(alike, []).append(covered)
    return tuple(map(tuple, groups.values()))


def differing(signs: Shown, healthy: Shown) -> Table:
    """Return the settings in which any sign is not as it should be."""
    table = 0
    for sign, healthy_table in healthy.items():
        table |= signs[sign] ^ healthy_table
    return table


def _ways(signs: Shown, healthy: Shown) -> Iterator[Shows]:
    for means, way in ((Means.SEEN, Shows.FUNCTION), (Means.READ, Shows.READING)):
        if any(signs[sign] != table for sign, table in healthy.items() if sign.means is means):
            yield way


def _why_never(subject: Subject, fault: Fault, opened: Collection[str] | None) -> str:
    """Return why nothing shows: tried by nobody, left alone, out of service, or out of reach."""
    if any(c.kind == "cut-out" for c in _deciding(subject.circuit, fault)):
        return CUT_OUT
    if _out_of_service(subject, fault):
        return IDLE
    if opened is not None and _parts(subject.circuit, fault.circuit).isdisjoint(opened):
        return SHUT
    return MISSED if difference(subject, fault)[1] else SAME


def _parts(before: Circuit, after: Circuit) -> set[str]:
    return {part_of(end) for element in _elements(before) ^ _elements(after)
            for end in element[1:]}


def difference(subject: Subject, fault: Fault) -> tuple[str, Table]:
    """Return the first terminal, in reach or not, that a fault changes, and where; else no state.

    Asked of all states that can come about in the healthy system. An end of a load counts where
    the load runs or does not.
    """
    healthy, faulty = subject.potentials, solve(fault.circuit)
    ran = ((a.a, faulty.runs(a) ^ healthy.runs(b))
           for a, b in zip(fault.circuit.loads, subject.circuit.loads, strict=True))
    stood = ((t.name, table ^ healthy.standings(t.name)[standing])
             for t in subject.circuit.terminals
             for standing, table in faulty.standings(t.name).items())
    return next(((terminal, differs) for terminal, table in chain(ran, stood)
                 if (differs := table & subject.reachable)), ("", 0))


def _out_of_service(subject: Subject, fault: Fault) -> bool:
    """Return whether nothing that is in service differs.

    In service is what lies on a way between terminals where something lands; what leads to an end
    where nothing does carries no current, as the contact of a thermostat's free terminal.
    """
    before, after = _elements(subject.circuit), _elements(fault.circuit)
    changed = {(a, b) for _, a, b in before ^ after}
    # A contact or load that was changed is still one way, and conductors lie within the nets.
    same = {(name.split()[0], a, b) for name, a, b in before | after}
    wired = {(c.name, c.a, c.b) for c in subject.circuit.conductors}
    return changed.isdisjoint(_in_service(subject, [(a, b) for _, a, b in same - wired]))


def _in_service(subject: Subject, ways: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Return ways without those that lead to an end, again and again until none does."""
    net = subject.potentials.nets.of
    fed = {pole for s in subject.circuit.supplies for pole in (s.line, s.neutral, s.earth)}
    landed = {net[t.name] for t in subject.circuit.terminals
              if t.name in fed or subject.landed(t.name)}
    ends = Counter(net[end] for way in ways for end in way)
    kept = [way for way in ways if all(net[e] in landed or ends[net[e]] > 1 for e in way)]
    return kept if len(kept) == len(ways) else _in_service(subject, kept)


def _deciding(circuit: Circuit, fault: Fault) -> Iterator[Variable]:
    """Yield the switches that work a contact which a fault has changed."""
    for contact in set(circuit.contacts) - set(fault.circuit.contacts):
        yield from (circuit.variables[v] for v, _ in contact.when)


def _elements(circuit: Circuit) -> set[tuple[str, str, str]]:
    named = {(f"{c.name} {c.when}", c.a, c.b) for c in circuit.contacts}
    named |= {(c.name, c.a, c.b) for c in circuit.conductors}
    return named | {(f"{load.name} {load.kind}", load.a, load.b) for load in circuit.loads}
