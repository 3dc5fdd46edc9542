"""Making it dead: every supply that could make anything live, and every pair to prove dead."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import takewhile

from generator.checks.subject import Subject
from generator.circuit.elements import Supply, part_of
from generator.circuit.potentials import could_be_live
from generator.sitework.changes import Changes


@dataclass(frozen=True)
class Isolation:
    """How one supply is made dead, and the terminals that stay live on its supply side.

    `opened` says that the isolating part itself is opened on the job, so that its supply side has
    to be made dead further up; a plug that is drawn leaves its supply in the socket. `locked`
    how it is locked off; `comes` that it is not there yet; `plug` that it is drawn from a socket.
    """

    supply: str
    says: str
    part: str
    called: str
    place: str
    settings: tuple[tuple[str, str], ...]
    stays_live: tuple[str, ...]
    opened: bool
    locked: str = ""
    comes: bool = False
    plug: bool = False


@dataclass(frozen=True)
class DeadRow:
    """One terminal, and what it is tested against, earth first."""

    terminal: str
    against: tuple[str, ...]


@dataclass(frozen=True)
class DeadPoint:
    """A part to be opened, with the pairs to test there and the supplies that could feed them.

    `later` says that it comes with the work and is opened again, for a test.
    """

    part: str
    called: str
    place: str
    competence: str
    supplies: tuple[str, ...]
    rows: tuple[DeadRow, ...]
    closed: bool
    later: bool = False


KNOWN_EARTH = "a known earth"
"""Where a part has no earth terminal of its own."""


def opened_parts(changes: Changes) -> frozenset[str]:
    """Return the parts at which a core or link comes, goes or changes its terminal."""
    ends = ((set(core.before or ()), set(core.after or ()))
            for core in (*changes.cores(), *changes.links))
    return frozenset(part_of(end) for before, after in ends for end in before ^ after)


def isolations(subject: Subject, opened: Collection[str]) -> tuple[Isolation, ...]:
    """Return each supply of a system with what isolates it."""
    return tuple(_isolation(subject, supply, opened) for supply in subject.circuit.supplies)


def _isolation(subject: Subject, supply: Supply, opened: Collection[str]) -> Isolation:
    part = subject.wall.parts[supply.part]
    isolated = subject.potentials.condition(supply.isolated)
    live = could_be_live(subject.potentials, supply.name)
    stays = tuple(t.name for t in subject.circuit.terminals
                  if live.get(subject.potentials.nets.of[t.name], 0) & isolated)
    plug = drawn(subject, supply)
    return Isolation(supply.name, supply.says, part.designation, part.called, part.placed.at,
                     subject.circuit.words(supply.isolated), stays,
                     part.designation in opened and not plug, part.part.locks, plug=plug)


def drawn(subject: Subject, supply: Supply) -> bool:
    """Return whether a supply is isolated by drawing a plug: it parts its earth as well.

    No switch may stand in a protective conductor, a plug and socket may: BS 7671 543.3.3, from
    memory.
    """
    isolating = {v for v, _ in supply.isolated}
    return any(part_of(contact.name) == supply.part and isolating & dict(contact.when).keys()
               and subject.circuit.terminal[contact.a].carries == "earth"
               for contact in subject.circuit.contacts)


def dead_points(subject: Subject, opened: Collection[str]) -> tuple[DeadPoint, ...]:
    """Return where to prove dead, and between which terminals.

    Every terminal of an opened part on which a conductor or a supply lands is asked for, also where
    nothing that is drawn could make it live: the wall may hold more than the drawing; every empty
    one that could be live; every way of a strip, since cores are landed there; and all of a part on
    which nothing is said to land. Not asked for is a terminal inside a head whose flex is fitted:
    it is tested at the other end of that flex.
    """
    points = (_point(subject, name) for name in subject.wall.parts if name in opened)
    return tuple(point for point in points if point)


def _point(subject: Subject, name: str) -> DeadPoint | None:
    feeds = {s.name: could_be_live(subject.potentials, s.name) for s in subject.circuit.supplies}
    net, carries = subject.potentials.nets.of, subject.circuit.terminal
    reached = list(_reached(subject, name))
    live = {t: {s for s, tables in feeds.items() if tables.get(net[t])} for t in reached}
    part = subject.wall.parts[name]
    neutrals = [t for t in reached if carries[t].carries == "neutral"
                or (part.part.letter == "X" and _neutral(subject, t) and not live[t])]
    lines = [t for t in reached if carries[t].carries != "earth" and t not in neutrals]
    if not lines and not neutrals:
        return None
    earth = next((t for t in reached if carries[t].carries == "earth"), KNOWN_EARTH)
    return DeadPoint(
        name, part.called, part.placed.at, part.part.competence,
        tuple(sorted({s for t in (*lines, *neutrals) for s in live[t]})),
        tuple(_rows(subject, lines, neutrals, earth)), bool(part.part.closed))


def _rows(subject: Subject, lines: list[str], neutrals: list[str], earth: str
          ) -> Iterator[DeadRow]:
    """Earth first: a line that has lost its neutral still shows against earth."""
    for terminal in lines:
        yield DeadRow(terminal, (earth, *_own_neutrals(subject, terminal, neutrals)))
    for neutral in neutrals:
        yield DeadRow(neutral, (earth,))


def _own_neutrals(subject: Subject, terminal: str, neutrals: list[str]) -> Iterator[str]:
    """Yield what a line is tested against besides earth (L to N, HSE GS38 and HSG85).

    At a strip one way of each neutral; not for a way where nothing lands, nor for one of earth.
    """
    potentials = subject.potentials
    if subject.wall.parts[part_of(terminal)].part.letter != "X":
        # `load-L` belongs to `load-N`: the neutral whose name begins most like the line's.
        yield from (n for n in [max(neutrals, key=lambda n: _alike(n, terminal), default="")] if n)
    elif subject.landed(terminal) and not potentials.at(potentials.earth, terminal):
        yield from {potentials.nets.of[n]: n for n in reversed(neutrals)
                    if subject.landed(n)}.values()


def _neutral(subject: Subject, way: str) -> bool:
    return bool(subject.potentials.at(subject.potentials.neutral, way))


def _alike(a: str, b: str) -> int:
    """Return how many characters two names share from their start."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(a, b, strict=False)))


def _reached(subject: Subject, part: str) -> Iterator[str]:
    """Yield the terminals of a part in reach that anything lands on, or that could be live.

    Of a strip all of them, and of a part without a core.
    """
    every = subject.wall.parts[part].part.letter == "X" or not any(
        subject.landed(t.name) for t in subject.circuit.terminals if t.part == part)
    arrives = {end for s in subject.circuit.supplies for end in (s.line, s.neutral, s.earth)}
    live = [could_be_live(subject.potentials, s.name) for s in subject.circuit.supplies]
    for terminal in subject.circuit.terminals:
        if terminal.part == part and terminal.in_reach and (
                every or terminal.name in arrives or subject.landed(terminal.name)
                or any(subject.potentials.at(tables, terminal.name) for tables in live)):
            yield terminal.name
