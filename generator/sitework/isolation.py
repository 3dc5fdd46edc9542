"""Making it dead: every supply that could make anything live, and every pair to prove dead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.flat import Supply
from generator.circuit.potentials import could_be_live
from generator.circuit.tables import Table


@dataclass(frozen=True)
class Isolation:
    """How one supply is made dead, and the terminals that stay live behind nothing."""

    supply: str
    says: str
    part: str
    called: str
    place: str
    settings: tuple[tuple[str, str], ...]
    stays_live: tuple[str, ...]


@dataclass(frozen=True)
class DeadPoint:
    """A part to be opened, with the pairs of terminals to test there and what could feed them."""

    part: str
    called: str
    place: str
    supplies: tuple[str, ...]
    pairs: tuple[tuple[str, str], ...]
    closed: bool
    earth_elsewhere: bool


def isolations(subject: Subject) -> tuple[Isolation, ...]:
    """Return each supply of a system that can make anything live, with what isolates it."""
    return tuple(_isolation(subject, supply) for supply in subject.circuit.supplies)


def _isolation(subject: Subject, supply: Supply) -> Isolation:
    part = subject.wall.parts[supply.line.partition(":")[0]]
    isolated = subject.potentials.condition(supply.isolated)
    live = could_be_live(subject.potentials, supply.name)
    stays = tuple(t.name for t in subject.circuit.terminals
                  if live.get(subject.potentials.nets.of[t.name], 0) & isolated)
    return Isolation(supply.name, supply.says, part.designation, part.called, part.placed.at,
                     subject.circuit.words(supply.isolated), stays)


def dead_points(subject: Subject) -> tuple[DeadPoint, ...]:
    """Return where to prove dead, and between which terminals.

    A terminal is asked for when a conductor lands on it that could be live from any supply in any
    state, closed parts taken at their worst; a terminal that only stands on the supply side of an
    isolator is not (it stays live), nor is one inside a head whose flex is fitted.
    """
    points = (_point(subject, name) for name in subject.wall.parts)
    return tuple(point for point in points if point)


def _point(subject: Subject, name: str) -> DeadPoint | None:
    feeds = {s.name: could_be_live(subject.potentials, s.name) for s in subject.circuit.supplies}
    reached = list(_landed(subject, name))
    live = {t: sorted(s for s, tables in feeds.items() if _at(subject, tables, t)) for t in reached}
    carries = {t: subject.circuit.terminal[t].carries for t in reached}
    hot = [t for t in reached if live[t] and carries[t] not in ("neutral", "earth")]
    if not hot:
        return None
    part = subject.wall.parts[name]
    neutrals = [t for t in reached if carries[t] == "neutral"]
    earths = [t for t in reached if carries[t] == "earth"]
    earth = earths[0] if earths else "a known earth"
    return DeadPoint(
        name, part.called, part.placed.at,
        tuple(sorted({s for t in hot for s in live[t]})),
        tuple(_pairs(hot, neutrals, earth)), bool(part.part.closed), not earths)


def _pairs(hot: list[str], neutrals: list[str], earth: str) -> Iterator[tuple[str, str]]:
    """Earth first: a line lost from its neutral still shows against earth."""
    for terminal in hot:
        yield terminal, earth
        yield from ((terminal, neutral) for neutral in neutrals[:1])
    for neutral in neutrals:
        yield neutral, earth


def _at(subject: Subject, tables: dict[int, Table], terminal: str) -> Table:
    return tables.get(subject.potentials.nets.of[terminal], 0)


def _landed(subject: Subject, part: str) -> Iterator[str]:
    """Yield the terminals of a part that a person can reach and a conductor lands on."""
    landed = {end for c in subject.circuit.conductors if c.kind != "joint" for end in (c.a, c.b)}
    supply_side = {end for s in subject.circuit.supplies for end in (s.line, s.neutral, s.earth)}
    for name, terminal in subject.wall.parts[part].part.terminals.items():
        full = f"{part}:{name}"
        if full in landed and full not in supply_side and terminal.tail is None:
            yield full
