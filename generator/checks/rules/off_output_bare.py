"""An output that is live while nothing calls, with no core on it and no word of its cap."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact
from generator.circuit.tables import Table
from generator.findings import Finding, Severity

CONTROLS = ("call", "temperature", "position")


def judge(subject: Subject) -> Verdict:
    """Ask of every output that is live with the supplies on and nothing called."""
    idle = _idle(subject)
    outputs = {contact.b: contact for contact in subject.circuit.contacts
               if _controlled(subject, contact) and _live(subject, contact, idle)}
    return verdict(len(outputs), "outputs that are live while nothing calls",
                   (f for contact in outputs.values() for f in _bare(subject, contact, idle)))


def _idle(subject: Subject) -> Table:
    """Return the settled states with the supplies on and everything at rest that is worked to call.

    Thermostats that call untouched, such as a cold cylinder's, stand anyhow.
    """
    calls = {v for v, each in enumerate(subject.circuit.variables) if each.kind == "call"}
    calls |= {v for zone in subject.circuit.zones for v, worked in zone.call if worked}
    return (subject.settled & subject.supplied()
            & subject.potentials.condition(tuple((v, False) for v in sorted(calls))))


def _controlled(subject: Subject, contact: Contact) -> bool:
    return any(subject.circuit.variables[v].kind in CONTROLS for v, _ in contact.when)


def _live(subject: Subject, contact: Contact, idle: Table) -> Table:
    closed = subject.potentials.closed(contact) & idle
    return subject.potentials.at(subject.potentials.line, contact.a) & closed


def _bare(subject: Subject, contact: Contact, idle: Table) -> Iterator[Finding]:
    part, name = subject.wall.parts[contact.part], contact.b.partition(":")[2]
    capped, tail = name in part.placed.capped, part.part.terminals[name].tail
    safe = tail is not None and any(subject.made_safe((part.designation,), tail))
    if capped == (safe or subject.led(contact.b)):
        state = subject.shown(_live(subject, contact, idle), idle)
        yield _landed(subject, contact) if capped else Finding(
            RULE.name, RULE.severity, f"`{contact.b}` is live while nothing calls, and bare.",
            (part.place.noted("the part"),), found="nothing lands on it, and nothing caps it",
            expected=f"its core; or `capped: [{name}]` on `{contact.part}`, insulated and seen",
            hint="who works on an idle system takes it for dead", state=state)


def _landed(subject: Subject, contact: Contact) -> Finding:
    part = subject.wall.parts[contact.part]
    return Finding(
        RULE.name, RULE.severity, f"`{contact.b}` is said to be capped, and a core lands on it.",
        (*subject.landing_places(contact.b), part.place.noted("said here")),
        found="`capped:` and a core", expected="one of the two")


RULE = Rule(
    "off-output-bare",
    "Off output is bare",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "off outputs are live when the system is idle; unused ones are "
                              "insulated"),
    ),
    judge,
)
