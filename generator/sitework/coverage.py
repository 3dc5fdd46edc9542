"""Which single faults show on site, and how: by function, a reading, dead, a look, or never."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from generator.checks.subject import Subject
from generator.circuit.faults import Fault, FaultKind, single_faults
from generator.circuit.flat import Circuit
from generator.circuit.tables import Table
from generator.sitework.continuity import Groups, dead_states, joined_dead
from generator.sitework.dead_tests import DeadTests, dead_tests, failing
from generator.sitework.signs import Means, Shown, Site, colours, shown, site
from generator.sitework.unseen import MISSED, why_never


class Shows(StrEnum):
    """How a fault is found, the surest way that finds it."""

    FUNCTION = "by function"
    READING = "by a reading"
    DEAD = "only dead"
    LOOKING = "only by looking"
    NEVER = "never"


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
    whole = replace(site(subject), metered=(), looked=())
    left_out = {(each.terminal, each.earth) for each in whole.proved} \
        - {(each.terminal, each.earth) for each in reached.proved}
    healthy = _kept(shown(circuit, whole), left_out)
    dead = dead_states(circuit)
    tests = dead_tests(subject, reached)
    landed = colours(circuit, reached)

    def covered(fault: Fault, everything: Shown) -> Covered:
        signs = _kept(everything, left_out)
        ways = tuple(_ways(signs, healthy))
        found = joined_dead(fault.circuit, reached, dead)
        direct = {state: joints for state, (joints, _) in zip(dead, found, strict=True)}
        wrong = failing(tests, fault.circuit, reached, direct)
        if wrong:
            ways += (Shows.DEAD,)
        # A core may be broken inside its sheath, where nobody sees it.
        if fault.kind is not FaultKind.OPEN and colours(fault.circuit, reached) != landed:
            ways += (Shows.LOOKING,)
        why = "" if ways else why_never(subject, fault, opened)
        return Covered(fault, ways, signs, wrong, found, why)

    return Coverage(reached, healthy, tests, tuple(
        covered(fault, signs) for fault, signs in _shown_by_each(circuit, whole)))


@lru_cache(maxsize=1)
def _shown_by_each(circuit: Circuit, site: Site) -> tuple[tuple[Fault, Shown], ...]:
    """Return every single fault with what it shows; a page asks for it twice, one after the other.

    What is opened only adds or takes away what is read to prove a supply dead.
    """
    return tuple((fault, shown(fault.circuit, site)) for fault in single_faults(circuit))


def _kept(signs: Shown, left_out: Collection[tuple[str, str]]) -> Shown:
    """Return signs without the readings between some pairs of terminals."""
    if not left_out:
        return signs
    return {sign: table for sign, table in signs.items() if sign.terminals not in left_out}


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
