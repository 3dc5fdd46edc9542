"""What a person can see, hear and read on site, for every setting of the controls at once."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache, lru_cache

from generator.checks.subject import Subject
from generator.circuit.elements import Condition, Terminal
from generator.circuit.flat import Circuit
from generator.circuit.moves import Motion, move
from generator.circuit.potentials import Potentials, Standing, solve, table_or
from generator.circuit.tables import Table


class Means(StrEnum):
    """How a sign is taken."""

    SEEN = "seen"
    READ = "read"


@dataclass(frozen=True)
class Sign:
    """A yes/no thing to look for; `terminals` are the two of a reading."""

    # An enum takes longest to hash, and the rest says as much.
    means: Means = field(hash=False)
    what: str
    word: str
    terminals: tuple[str, str] | None = None


Shown = dict[Sign, Table]
"""In which settings each sign shows; the same for every position of the devices."""


@dataclass(frozen=True)
class Site:
    """What can be reached on a wall.

    `reads` are the ways of the strip, or without one the terminals of parts that any engineer may
    open, read live against `neutral` and `earth`; `metered` are all terminals that an ohmmeter
    reaches dead; `looked` are those that are seen with covers off; `watched` are loads that are
    seen or heard; `cut_outs` are cut-outs that can be tried, with the terminal their contact leads
    on to. `proved` are terminals of a supply that comes to none of the ways: they are read against
    the earth of their part once that supply is isolated, and never before.
    """

    reads: tuple[str, ...]
    neutral: str
    earth: str
    metered: tuple[str, ...]
    looked: tuple[str, ...]
    watched: tuple[str, ...]
    cut_outs: tuple[tuple[int, str], ...]
    proved: tuple[Proved, ...]


@dataclass(frozen=True)
class Proved:
    """A terminal that is proved dead against an earth once its supply is isolated."""

    terminal: str
    earth: str
    isolated: Condition


def site(subject: Subject, opened: Collection[str] | None = None) -> Site:
    """Return what can be reached on a wall where these parts are opened; if not said, all.

    Reached dead: what lands in an opened part, and the metal of every part, which stands for its
    first earth terminal. A head with its own flex and the inside of a part are not.
    """
    circuit, potentials = subject.circuit, subject.potentials
    landed = [t for t in circuit.terminals if subject.landed(t.name)]
    reads = ways(subject)
    neutral = next((t for t in reads if potentials.at(potentials.neutral, t)), "")
    earth = next((t for t in reads if potentials.at(potentials.earth, t)), "")
    metal = {t.part: t for t in reversed(circuit.terminals) if t.carries == "earth"}
    metered = tuple(t.name for t in circuit.terminals
                    if metal.get(t.part) is t or _opens(subject, t, opened))
    looked = tuple(t.name for t in circuit.terminals if not t.fixed
                   and (opened is None or t.part in opened))
    watched = tuple(load.name for load in circuit.loads if load.kind in ("pump", "electronics"))
    cut_outs = tuple((v, contact.b) for contact in circuit.contacts for v, value in contact.when
                     if circuit.variables[v].kind == "cut-out" and not value
                     and subject.landed(contact.b))
    proved = tuple(_proved(subject, reads, [t for t in landed if _opens(subject, t, opened)]))
    return Site(reads, neutral, earth, metered, looked, watched, cut_outs, proved)


def ways(subject: Subject) -> tuple[str, ...]:
    """Return where anything is read live: the ways of the strips on which something lands.

    Without a strip, the terminals of parts that any engineer may open.
    """
    landed = [t for t in subject.circuit.terminals if subject.landed(t.name)]
    return tuple(t.name for t in landed if _strip(subject, t.part)) \
        or tuple(t.name for t in landed if _read_live(subject, t))


def _proved(subject: Subject, reads: tuple[str, ...], opened: list[Terminal]) -> Iterator[Proved]:
    for supply in subject.circuit.supplies:
        line = subject.potentials.line_of[supply.name]
        if any(subject.potentials.at(line, way) for way in reads):
            continue
        for terminal in opened:
            earth = _earth_beside(terminal, opened)
            if earth and terminal.part != supply.part and _proves(subject, terminal) \
                    and subject.potentials.at(line, terminal.name):
                yield Proved(terminal.name, earth, supply.isolated)


def _proves(subject: Subject, terminal: Terminal) -> bool:
    part = subject.wall.parts[terminal.part].part
    return not part.closed and part.competence not in ("gas", "oil")


def _earth_beside(terminal: Terminal, opened: list[Terminal]) -> str:
    return next((t.name for t in opened if t.part == terminal.part and t.carries == "earth"), "")


def _opens(subject: Subject, terminal: Terminal, opened: Collection[str] | None) -> bool:
    return (opened is None or terminal.part in opened) and not terminal.fixed \
        and bool(subject.landed(terminal.name))


def _read_live(subject: Subject, terminal: Terminal) -> bool:
    """Return whether any engineer may have a part open while it is live.

    Not where a supply arrives, nor a boiler, nor the safety devices of an unvented cylinder.
    """
    part = subject.wall.parts[terminal.part].part
    supplied = any(s.part == terminal.part for s in subject.circuit.supplies)
    return not (terminal.fixed or supplied or part.closed or part.competence != "electrical")


def _strip(subject: Subject, part: str) -> bool:
    return subject.wall.parts[part].part.letter == "X"


def shown(circuit: Circuit, site: Site) -> Shown:
    """Return every sign of a circuit, faulty or not, by the settings in which it shows.

    Nobody trips a cut-out on site: the core on its way out is taken off instead, so a bridge round
    it, or a contact that does not open, shows no more here than it would there. With a cut-out
    tripped that cannot be tried so, nothing is looked at.
    """
    space, tried = circuit.space, dict(site.cut_outs)
    never = table_or(space.variables[v] for v, variable in enumerate(circuit.variables)
                     if variable.kind == "cut-out" and v not in tried)
    looked = space.no(never)
    signs = {sign: table & looked for sign, table in _settled(circuit, site).items()}
    for v, way_out in site.cut_outs:
        stand_in = _settled(_core_off(circuit, way_out), site)
        untripped, width = looked & space.where(v, False), 1 << v
        signs = {sign: (table & untripped) | (stand_in[sign] & untripped) << width
                 for sign, table in signs.items()}
    return signs


def _core_off(circuit: Circuit, way_out: str) -> Circuit:
    """Return the circuit with what a person landed on a terminal taken off it."""
    return replace(circuit, conductors=tuple(
        c for c in circuit.conductors
        if c.kind not in ("core", "link") or way_out not in (c.a, c.b)))


def _settled(circuit: Circuit, site: Site) -> Shown:
    potentials = solve(circuit)
    return dict(_signs(potentials, move(potentials), site))


def _signs(potentials: Potentials, motion: Motion, site: Site) -> Iterator[tuple[Sign, Table]]:
    for sign, table in _seen(potentials, motion, site):
        yield sign, motion.by_setting(table)
    # Terminals of one net stand alike.
    net = potentials.nets.of
    speaks = {net[t]: t for t in (*site.reads, *(end for p in site.proved
                                                 for end in (p.terminal, p.earth)))}
    levels = {number: _levels(potentials, motion, t) for number, t in speaks.items()}

    @cache
    def between(a: int, b: int) -> tuple[Table, Table]:
        return _between(levels[a], levels[b])

    for terminal in site.reads:
        for reference in (site.neutral, site.earth):
            if reference and reference != terminal:
                yield from _read(terminal, reference, *between(net[terminal], net[reference]))
    for each in site.proved:
        isolated = potentials.condition(each.isolated)
        whole, part = between(net[each.terminal], net[each.earth])
        yield from _read(each.terminal, each.earth, whole & isolated, part & isolated)


def _seen(potentials: Potentials, motion: Motion, site: Site) -> Iterator[tuple[Sign, Table]]:
    circuit, space = potentials.circuit, potentials.space
    for variable, _ in motion.moves:
        named = circuit.variables[variable]
        yield Sign(Means.SEEN, named.name, named.words[1]), space.variables[variable]
    for source in circuit.heat_sources:
        yield Sign(Means.SEEN, source.name, "on"), potentials.fires(source)
    for supply in circuit.supplies:
        yield Sign(Means.SEEN, supply.name, "trips"), _trips(potentials, supply.name)
    for load in site.watched:
        yield Sign(Means.SEEN, load, "on"), potentials.runs(circuit.load[load])


def _trips(potentials: Potentials, supply: str) -> Table:
    """Return where a supply's line meets a neutral or earth, so that its fuse or breaker goes."""
    return table_or(table & (potentials.neutral.get(net, 0) | potentials.earth.get(net, 0))
                    for net, table in potentials.line_of[supply].items())


def _read(a: str, b: str, whole: Table, part: Table) -> Iterator[tuple[Sign, Table]]:
    yield from zip(reading_signs((a, b)), (whole, part), strict=True)


@lru_cache(maxsize=1024)
def reading_signs(pair: tuple[str, str]) -> tuple[Sign, Sign]:
    """Return the signs of a reading between two terminals: the whole supply, or a part of it."""
    return Sign(Means.READ, pair[0], "230 V", pair), Sign(Means.READ, pair[0], "a part", pair)


@dataclass(frozen=True)
class _Levels:
    """Where a terminal is live, at zero, between or floating, by setting."""

    live: Table
    zero: Table
    between: Table
    floats: Table


def _between(one: _Levels, other: _Levels) -> tuple[Table, Table]:
    """Return where a tester shows the whole supply between two terminals, and where a part."""
    whole = (one.live & other.zero) | (one.zero & other.live)
    return whole, (one.between & ~other.floats) | (other.between & ~one.floats)


def _levels(potentials: Potentials, motion: Motion, terminal: str) -> _Levels:
    at = potentials.standings(terminal)
    return _Levels(*map(motion.by_setting, (
        at[Standing.LINE] | at[Standing.SOFT_LINE],
        at[Standing.NEUTRAL] | at[Standing.SOFT_NEUTRAL] | at[Standing.EARTH],
        at[Standing.BETWEEN], at[Standing.FLOATING])))


def colours(circuit: Circuit, site: Site) -> tuple[tuple[str, str], ...]:
    """Return what is seen to land where, covers off: terminal and core or link."""
    looked = frozenset(site.looked)
    return tuple(sorted((end, c.name) for c in circuit.conductors if c.kind != "joint"
                        for end in (c.a, c.b) if end in looked))
