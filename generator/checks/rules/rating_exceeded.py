"""More current than a contact, core or fuse is made for; or a fuse too large for a core."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Conductor, Contact, Load
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed

VOLTS = 230.0
"""Nominal voltage; the Electricity Supply Regulations permit 216.2 to 253.0 V."""
INDUCTIVE = ("motor", "pump")

Carried = tuple[tuple[Load, Table], ...]


def judge(subject: Subject) -> Verdict:
    """Ask of every contact and core of known rating that some load cannot run without.

    And of every core whose line comes through a fuse of known rating.
    """
    circuit = subject.circuit
    elements: tuple[Contact | Conductor, ...] = (*circuit.contacts, *circuit.conductors)
    carrying = [(element, carried) for element in elements
                if element.amps and (carried := subject.only_through(element))]
    guarded = [(core, fuse) for core in circuit.conductors
               if core.amps and (fuse := _guard(subject, core))]
    return verdict(len(carrying) + len(guarded),
                   "ratings of contacts and cores that carry a load, and cores behind a fuse",
                   chain((f for case in carrying for f in _overloaded(subject, *case)),
                         _oversized(guarded)))


def _overloaded(
    subject: Subject, element: Contact | Conductor, carried: Carried
) -> Iterator[Finding]:
    motors = tuple(each for each in carried if each[0].kind in INDUCTIVE)
    limits = [("", element.amps, carried)]
    if isinstance(element, Contact) and element.inductive:
        limits.append((" inductive", element.inductive, motors))
    for word, limit, counted in limits:
        amps, table = worst(counted, subject.reachable)
        if amps > limit:
            loads = [load for load, runs in counted if runs >> subject.earliest(table) & 1]
            yield Finding(
                RULE.name, RULE.severity,
                f"`{element.name}` carries {amps:g} A{word} and is made for {limit:g} A.",
                (element.place.noted(element.name),
                 *(load.place.noted(f"load {load.name}") for load in loads)),
                found=f"{amps:g} A for {listed((load.name for load in loads), 'and')}",
                expected=f"at most {limit:g} A{word}",
                state=subject.shown(table, subject.reachable))


def worst(carried: Iterable[tuple[Load, Table]], states: Table) -> tuple[float, Table]:
    """Return the highest sum of load currents in A, and the states in which it flows.

    To a tenth, as ratings are given: 3 kW counts as 13 A.
    """
    watts = {0.0: states}
    for load, runs in carried:
        more: dict[float, Table] = {}
        for sum_, where in watts.items():
            for total, part in ((sum_, where & ~runs), (sum_ + load.watts, where & runs)):
                more[total] = more.get(total, 0) | part
        watts = {total: part for total, part in more.items() if part}
    most = max(watts, default=0.0)
    return round(most / VOLTS, 1), watts.get(most, 0)


def _guard(subject: Subject, core: Conductor) -> Contact | None:
    """Return the smallest fuse of known rating that the line of a core must pass."""
    variables = subject.circuit.variables
    fuses = (contact for contact in subject.circuit.contacts
             if contact.amps and any(variables[v].kind == "fuse" for v, _ in contact.when))
    return min((fuse for fuse in fuses if _behind(subject, core, fuse)),
               key=lambda fuse: fuse.amps, default=None)


def _behind(subject: Subject, core: Conductor, fuse: Contact) -> bool:
    """Return whether a core takes its line through a fuse and no other way."""
    potentials = subject.potentials
    live = potentials.at(potentials.line, core.a) & subject.reachable
    return bool(live) and not live & ~potentials.closed(fuse)


def _oversized(guarded: Iterable[tuple[Conductor, Contact]]) -> Iterator[Finding]:
    thin = sorted(((core, fuse) for core, fuse in guarded if core.amps < fuse.amps),
                  key=lambda pair: pair[0].amps)
    # The thinnest core speaks for all behind its fuse.
    for core, fuse in {fuse.name: (core, fuse) for core, fuse in reversed(thin)}.values():
        yield Finding(
            RULE.name, RULE.severity,
            f"The fuse of {fuse.amps:g} A in `{fuse.part}` stands before "
            f"`{core.name}`, which carries {core.amps:g} A.",
            (fuse.place.noted("the fuse"), core.place.noted("the flex")),
            found=f"a fuse of {fuse.amps:g} A",
            expected=f"a fuse of at most {core.amps:g} A, or a larger flex")


RULE = Rule(
    "rating-exceeded",
    "Rating is exceeded",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "BS 7671 Table 4F3A: what a flexible core carries"),
        Basis(Known.MEMORY, "EN 60730-1: a contact marked 3(1) A carries 3 A resistive, 1 A "
                            "inductive"),
        Basis(Known.PRACTICE, "3 A fuse before heating controls; behind 13 A no flex below "
                              "1.25 mm²"),
    ),
    judge,
)
