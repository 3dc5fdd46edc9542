"""A standard system that rests on the inside of a maker's closed part, which nobody can prove."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor, HeatSource
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Severity

LOW = "extra-low voltage"
EARTH = "earth"


def judge(subject: Subject) -> Verdict:
    """Ask of every core on a closed part, and of every heat source with terminals for one.

    Only where a line reaches closed parts: what is dead through and through decides nothing.
    """
    cores = [(core, ends) for core in subject.circuit.conductors if (ends := _ends(subject, core))]
    sources = [source for source in subject.circuit.heat_sources if source.also_asks]
    powered = _powered(subject)
    return verdict(
        len(cores) + len(sources), "cores on closed parts, and heat sources that may ask one",
        (*(f for core, end in cores for f in _unknown(subject, core, end, powered)),
         *(f for source in sources for f in _asks(subject, source))))


def _ends(subject: Subject, core: Conductor) -> str:
    """Return the mains end of a core that lands on a closed part, if it has one."""
    closed = {terminal for group in subject.circuit.closed for terminal in group}
    mains = [end for end in (core.b, core.a)
             if subject.circuit.terminal[end].carries not in (LOW, EARTH)]
    return mains[0] if mains and {core.a, core.b} & closed else ""


def _powered(subject: Subject) -> Table:
    """Return the reachable states in which a line comes to a closed part."""
    potentials = subject.potentials
    return subject.reachable & table_or(
        potentials.at(tables, terminal) for group in subject.circuit.closed for terminal in group
        for tables in (potentials.line, potentials.soft_line))


def _unknown(
    subject: Subject, core: Conductor, end: str, powered: Table
) -> Iterator[Finding]:
    if table := subject.potentials.not_known(end) & powered:
        yield Finding(
            RULE.name, RULE.severity,
            f"What `{core.name}` carries is decided inside a closed part.", (core.place,),
            found=f"`{end}` may be live or dead, and nobody can say which",
            expected="a standard system of parts whose inside is known",
            state=subject.shown(table, powered))


def _asks(subject: Subject, source: HeatSource) -> Iterator[Finding]:
    for terminal in source.also_asks:
        for core in subject.landed(terminal):
            yield Finding(
                RULE.name, RULE.severity, f"Whether `{source.name}` fires is decided over "
                f"`{core.name}`.",
                (core.place.noted(note(core)), source.place.noted("the heat source")),
                found=f"`{terminal}` is in use: a maker's own control may hold it off",
                expected="its data terminals left free, its switched line alone decides")


RULE = Rule(
    "inside-not-known",
    "Inside of a closed part is not known",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "what no instruction shows is not guessed, it is replaced"),),
    judge,
)
