"""Why a fault never shows on site: nobody tries it, it is out of service, or it is out of reach."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from itertools import chain

from generator.checks.subject import Subject
from generator.circuit.elements import Variable, part_of
from generator.circuit.faults import Fault
from generator.circuit.flat import Circuit
from generator.circuit.potentials import solve
from generator.circuit.tables import Table

CUT_OUT = "a cut-out is tried only as its maker says"
IDLE = "nothing in service differs"
SHUT = "in a part that this job does not open"
SAME = "no terminal differs in any state that can come about"
INSIDE = "only a point inside a part differs, which nothing outside hangs on"
MISSED = "no terminal in reach differs"
"""Why a fault never shows; only the last is a gap in the tests."""

ROW_INSIDE = "inside"
"""The row of points inside a part that are no terminals: nothing lands on them."""


def why_never(subject: Subject, fault: Fault, opened: Collection[str] | None) -> str:
    """Return why nothing shows: tried by nobody, left alone, out of service, or out of reach."""
    if any(c.kind == "cut-out" for c in _deciding(subject.circuit, fault)):
        return CUT_OUT
    if _out_of_service(subject, fault):
        return IDLE
    if opened is not None and _parts(subject.circuit, fault.circuit).isdisjoint(opened):
        return SHUT
    if not difference(subject, fault)[1]:
        return SAME
    return MISSED if _first(_differing(subject, fault, inside=False))[1] else INSIDE


def _parts(before: Circuit, after: Circuit) -> set[str]:
    """Return the parts at whose terminals something differs; the far end of a core does not."""
    return {part_of(end) for _, end in _ends(before) ^ _ends(after)}


def _ends(circuit: Circuit) -> set[tuple[str, str]]:
    return {(name, end) for name, *ends in _elements(circuit) for end in ends}


def difference(subject: Subject, fault: Fault) -> tuple[str, Table]:
    """Return the first terminal, in reach or not, that a fault changes, and where; else no state.

    Asked of all states that can come about in the healthy system. An end of a load counts where
    the load runs or does not.
    """
    return _first(_differing(subject, fault, inside=True))


def _first(differing: Iterator[tuple[str, Table]]) -> tuple[str, Table]:
    return next(differing, ("", 0))


def _differing(subject: Subject, fault: Fault, *, inside: bool) -> Iterator[tuple[str, Table]]:
    """Yield terminals that a fault changes, and where; points inside a part only if asked."""
    healthy, faulty = subject.potentials, solve(fault.circuit)
    ran = ((a.a, faulty.runs(a) ^ healthy.runs(b))
           for a, b in zip(fault.circuit.loads, subject.circuit.loads, strict=True))
    stood = ((t.name, table ^ healthy.standings(t.name)[standing])
             for t in subject.circuit.terminals if inside or t.row != ROW_INSIDE
             for standing, table in faulty.standings(t.name).items())
    yield from ((terminal, differs) for terminal, table in chain(ran, stood)
                if (differs := table & subject.reachable))


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
