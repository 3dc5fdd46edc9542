"""Tests with an ohmmeter before the supply comes back: few enough to be done, all that they show.

A test joins the terminals of a group by loose links and reads between two groups. To keep n nets
apart each has a number, and for every bit of the number all nets that have it are read against all
that have not: any two nets differ in a bit, so ceil(log2 n) readings serve for all pairs (Kautz
1974, "Testing for faults in wiring networks", IEEE Transactions on Computers C-23; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from generator.checks.subject import Subject
from generator.circuit.elements import part_of
from generator.circuit.flat import Circuit
from generator.circuit.reach import nets
from generator.sitework.continuity import Groups, dead_states, joined_dead
from generator.sitework.dead_checks import does
from generator.sitework.electronics import Off, electronics, parted
from generator.sitework.heavy import HeavyPair, heavy_pairs
from generator.sitework.signs import Site

LOW = 100.0
"""Ohm; less than this between two groups is a joint. Our own figure, no source."""


Settings = tuple[tuple[str, str], ...]
"""Thermostats and the words they are set to."""


class DeadKind(StrEnum):
    """What a dead test is for."""

    JOINED = "must be joined"
    SWITCHED = "joined or not as a thermostat says"
    THROUGH = "joined through a load"
    APART = "must not be joined"


@dataclass(frozen=True)
class DeadTest:
    """A reading between two groups of terminals, each joined by loose links, in a dead state.

    `settings` are the thermostats that decide it.
    """

    kind: DeadKind
    does: str
    one: tuple[str, ...]
    other: tuple[str, ...]
    state: int
    settings: Settings
    joined: bool


@dataclass(frozen=True)
class DeadTests:
    """All dead tests of a system, and the counting bound below which no set of tests can be.

    `nets` are those that must be apart, `largest` the terminals of the net that has most;
    `settings` are the thermostats as they stand for all tests but the switched ones, `off` the
    parts whose electronics come off before the nets are read against each other, and where.
    """

    tests: tuple[DeadTest, ...]
    settings: Settings
    off: tuple[Off, ...]
    nets: int
    largest: int

    @property
    def out(self) -> tuple[str, ...]:
        """The parts whose electronics come off."""
        return tuple(off.part for off in self.off)

    @property
    def at_least(self) -> int:
        """Largest net - 1 + log2 of the number of nets, rounded up (Kautz 1974)."""
        return max(self.largest - 1, 0) + (self.nets - 1).bit_length()


Joints = dict[str, int]
"""For each terminal in reach, the number of what it is directly joined to."""


def dead_tests(subject: Subject, site: Site) -> DeadTests:
    """Return the dead tests of a system, for what a person reaches there."""
    states = dead_states(subject.circuit)
    found = joined_dead(subject.circuit, site, states)
    joints = {state: dict(zip(site.metered, direct, strict=True))
              for state, (direct, _) in zip(states, found, strict=True)}
    wired = _wired(subject, site)
    heavy = heavy_pairs(subject, [net[0] for net in wired], states)
    links = _links(subject, wired, joints.values())
    islands = _nets(subject, wired, [*links, *((pair.a, pair.b) for pair in heavy)])
    # Thermostats that join nothing let each net be read for itself.
    open_state = max(states, key=lambda state: len(set(joints[state].values())))
    tests = (*_continuity(subject, wired, open_state),
             *_switched(subject, _nets(subject, wired, links), joints),
             *_through(heavy, open_state),
             *_apart(islands, joints[open_state], open_state))
    off = electronics(subject, {part_of(terminal) for terminal in site.looked})
    return DeadTests(tests, _words(subject, open_state, _deciding(subject, joints)), off,
                     len(islands), max(map(len, wired), default=0))


def failing(tests: DeadTests, circuit: Circuit, site: Site, found: Mapping[int, Groups]
            ) -> tuple[int, ...]:
    """Return which tests read wrong, by number, where `found` is joined in each dead state."""
    index = {terminal: i for i, terminal in enumerate(site.metered)}
    apart = {test.state for test in tests.tests if test.kind is DeadKind.APART}
    without = parted(circuit, {core for off in tests.off for core, _ in off.cores})
    bare = dict(zip(apart, joined_dead(without, site, apart, tests.out), strict=True))

    def reads_low(test: DeadTest) -> bool:
        groups = bare[test.state][0] if test.kind is DeadKind.APART else found[test.state]
        return not {groups[index[t]] for t in test.one}.isdisjoint(
            groups[index[t]] for t in test.other)

    return tuple(number for number, test in enumerate(tests.tests)
                 if reads_low(test) is not test.joined)


def _wired(subject: Subject, site: Site) -> tuple[tuple[str, ...], ...]:
    """Return the terminals in reach of each net, those of a strip first.

    What nothing lands on is left out: nobody can say what metal without an earth touches.
    """
    groups: dict[int, list[str]] = {}
    for terminal in site.metered:
        groups.setdefault(subject.potentials.nets.of[terminal], []).append(terminal)
    return tuple(tuple(sorted(group, key=lambda t: not _strip(subject, t)))
                 for group in groups.values() if any(map(subject.landed, group)))


def _strip(subject: Subject, terminal: str) -> bool:
    return subject.wall.parts[part_of(terminal)].part.letter == "X"


Island = tuple[str, ...]
"""One terminal of each net that is joined to the others in some dead setting."""


def _links(subject: Subject, wired: Sequence[Sequence[str]], joints: Iterable[Joints]
           ) -> list[tuple[str, str]]:
    """Return the nets that some dead setting joins, by one terminal of each."""
    speaks = [net[0] for net in wired]
    return [pair for each in joints for pair in _together(each, speaks)]


def _nets(subject: Subject, wired: Sequence[Sequence[str]], same: Iterable[tuple[str, str]]
          ) -> tuple[Island, ...]:
    """Return nets that must be apart in every dead setting, strips first.

    Those that some setting joins, or a load of low resistance, are one island.
    """
    speaks = sorted((net[0] for net in wired), key=lambda t: not _strip(subject, t))
    return nets(speaks, same).terminals()


def _together(joints: Joints, terminals: Iterable[str]) -> Iterator[tuple[str, str]]:
    speaks: dict[int, str] = {}
    for terminal in terminals:
        yield speaks.setdefault(joints[terminal], terminal), terminal


def _continuity(subject: Subject, wired: Sequence[Sequence[str]], state: int
                ) -> Iterator[DeadTest]:
    for net in wired:
        said = does(subject, net[0])
        for other in net[1:]:
            yield DeadTest(DeadKind.JOINED, said, (net[0],), (other,), state, (), True)


def _switched(subject: Subject, islands: Iterable[Island], joints: Mapping[int, Joints]
              ) -> Iterator[DeadTest]:
    """Yield where a contact at rest joins two nets, and where a thermostat takes them apart."""
    for island in islands:
        for a, b in pairwise(island):
            together = {state: each[a] == each[b] for state, each in joints.items()}
            for joined in (True, False):
                state = next((s for s, each in together.items() if each is joined), None)
                if state is not None:
                    deciding = _words(subject, state, _deciding(subject, together))
                    # A change-over contact never joins its two ways.
                    switched = deciding or not joined
                    kind = DeadKind.SWITCHED if switched else DeadKind.JOINED
                    yield DeadTest(kind, does(subject, a), (a,), (b,), state, deciding, joined)


def _through(heavy: Iterable[HeavyPair], state: int) -> Iterator[DeadTest]:
    for pair in heavy:
        yield DeadTest(DeadKind.THROUGH, pair.reads, (pair.a,), (pair.b,), state, (), False)


def _deciding(subject: Subject, joined: Mapping[int, object]) -> list[int]:
    """Return the variables that decide a thing which is told for each dead state."""
    return [v for v in range(subject.potentials.space.count)
            if any(joined[s] != joined.get(s ^ 1 << v, joined[s]) for s in joined)]


def _words(subject: Subject, state: int, variables: Iterable[int]) -> Settings:
    return subject.circuit.words(tuple((v, bool(state >> v & 1)) for v in variables))


def _apart(islands: Sequence[Island], joints: Joints, state: int) -> Iterator[DeadTest]:
    """Yield one reading for each bit of the islands' numbers."""
    for bit in range((len(islands) - 1).bit_length()):
        sides: tuple[list[str], list[str]] = ([], [])
        for number, island in enumerate(islands):
            # One lead for what is joined as it is.
            sides[number >> bit & 1].extend({joints[t]: t for t in reversed(island)}.values())
        yield DeadTest(DeadKind.APART, "", tuple(sides[0]), tuple(sides[1]), state, (), False)
