"""Circuits made by Hypothesis: any wiring at all, sense or nonsense, on a few variables."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hypothesis import strategies as st

from generator.circuit.elements import (
    POSITION,
    Condition,
    Conductor,
    Contact,
    Device,
    Load,
    Supply,
    Terminal,
    Variable,
)
from generator.circuit.flat import Circuit
from generator.findings import Place
from generator.recipe.moving import Both, Either, Not, Wish, Word, names

HERE = Place("made", 1, 1)
MOST_SWITCHES = 4
MOST_DEVICES = 3
Contacts = Iterable[tuple[str, str, Condition]]


def made(
    terminals: Iterable[str], conductors: Iterable[tuple[str, str]], contacts: Contacts,
    loads: Iterable[tuple[str, str, str, float]], switches: int,
    devices: Iterable[int | Wish],
    supplies: int = 1, closed: tuple[tuple[str, ...], ...] = (),
) -> Circuit:
    """Return a circuit: switches first, then a position for each of `devices`: a load or a wish.

    Supply n has the terminals Qn:L, Qn:N and Qn:E; a load is (a, b, kind, watts).
    """
    sources = [f"Q{n}:{pole}" for n in range(1, supplies + 1) for pole in "LNE"]
    moved = [Word(f"R{d}") if isinstance(d, int) else d for d in devices]
    return Circuit(
        variables=(
            *(Variable(f"S{v}.state", ("off", "on"), "call", HERE) for v in range(switches)),
            *(Variable(f"M{v}.valve", ("shut", "open"), POSITION, HERE)
              for v in range(len(moved)))),
        terminals=tuple(Terminal(name, "anything", 9, "", HERE)
                        for name in (*sources, *terminals)),
        conductors=tuple(Conductor(f"W{i}", a, b, "core", HERE)
                         for i, (a, b) in enumerate(conductors)),
        contacts=tuple(Contact(f"C{i}", a, b, when, HERE)
                       for i, (a, b, when) in enumerate(contacts)),
        loads=tuple(Load(f"R{i}", a, b, kind, watts, "", HERE)
                    for i, (a, b, kind, watts) in enumerate(loads)),
        devices=tuple(Device(switches + i, wish, loads_in(wish)) for i, wish in enumerate(moved)),
        heat_sources=(),
        supplies=tuple(Supply(f"supply-{n}", "", f"Q{n}:L", f"Q{n}:N", f"Q{n}:E", (), HERE)
                       for n in range(1, supplies + 1)),
        zones=(),
        closed=closed,
    )


def loads_in(wish: Wish) -> tuple[str, ...]:
    """Return the loads that a wish names."""
    return tuple(name for name in names(wish) if name.startswith("R"))


def wishes(words: Iterable[str]) -> st.SearchStrategy[Wish]:
    """Return a strategy for what may move a device: these words with and, or, not."""
    return st.recursive(
        st.sampled_from(list(words)).map(Word),
        lambda inner: st.one_of(st.builds(Not, inner), st.builds(Both, inner, inner),
                                st.builds(Either, inner, inner)), max_leaves=4)


@st.composite
def circuits(draw: st.DrawFn, closed_parts: bool = True, electronics: bool = True,
             volt_free: bool = True) -> Circuit:
    """Return a strategy for circuits of at most 7 variables, with one or two supplies."""
    supplies = draw(st.integers(1, 2))
    own = [f"X1:{i}" for i in range(1, 1 + draw(st.integers(1, 9)))]
    anywhere = st.sampled_from(
        [*(f"Q{n}:{pole}" for n in range(1, supplies + 1) for pole in "LN"), *own] * 3
        + [f"Q{n}:E" for n in range(1, supplies + 1)])
    kinds = st.sampled_from(["motor", "call input", "pump", "element"]
                            + ["electronics"] * electronics + ["volt-free input"] * volt_free)
    loads = draw(st.lists(
        st.tuples(anywhere, anywhere, kinds, st.sampled_from([1.0, 2.0, 6.0, 60.0, 3000.0])),
        max_size=7))
    switches = draw(st.integers(0, MOST_SWITCHES))
    count = draw(st.integers(0, MOST_DEVICES))
    words = [*(f"R{i}" for i in range(len(loads))), *(f"M{v}.valve" for v in range(count)),
             *(f"S{v}.state" for v in range(switches))]
    devices = draw(st.lists(wishes(words), min_size=count, max_size=count))
    when = conditions(switches + len(devices))
    return made(
        own,
        draw(st.lists(st.tuples(st.sampled_from(own), anywhere), max_size=4)),
        draw(st.lists(st.tuples(anywhere, anywhere, when), max_size=9)),
        loads, switches, devices, supplies,
        (tuple(draw(st.lists(st.sampled_from(own), min_size=1, max_size=3, unique=True))),)
        if closed_parts and draw(st.booleans()) else ())


@st.composite
def relays(draw: st.DrawFn) -> Circuit:
    """Return a strategy for relays that switch one another: latches, buzzers, rivals."""
    devices, switches = draw(st.integers(1, MOST_DEVICES)), draw(st.integers(0, 2))
    coils = [f"X1:{i}" for i in range(1, devices + 1)]
    when = conditions(switches + devices, least=1, most=3)
    fed = [(coil, draw(st.lists(when, max_size=3))) for coil in coils]
    return made(
        coils, [], [("Q1:L", coil, each) for coil, feeds in fed for each in feeds],
        [(coil, "Q1:N", "motor", 6.0) for coil in coils], switches,
        range(devices))


def conditions(variables: int, least: int = 0, most: int = 2) -> st.SearchStrategy[Condition]:
    """Return a strategy for conditions on `least` to `most` variables, if there are so many."""
    if not variables:
        return st.just(())
    size = {"min_size": min(least, variables), "max_size": most}
    return st.dictionaries(st.integers(0, variables - 1), st.booleans(), **size).map(
        lambda settings: tuple(sorted(settings.items())))


def renamed(circuit: Circuit, name: dict[str, str]) -> Circuit:
    """Return the circuit with its terminals called otherwise."""
    return replace(
        circuit,
        terminals=tuple(replace(t, name=name[t.name]) for t in circuit.terminals),
        conductors=tuple(replace(c, a=name[c.a], b=name[c.b]) for c in circuit.conductors),
        contacts=tuple(replace(c, a=name[c.a], b=name[c.b]) for c in circuit.contacts),
        loads=tuple(replace(x, a=name[x.a], b=name[x.b]) for x in circuit.loads),
        supplies=tuple(replace(s, line=name[s.line], neutral=name[s.neutral],
                               earth=name[s.earth]) for s in circuit.supplies),
        closed=tuple(tuple(name[t] for t in group) for group in circuit.closed),
    )
