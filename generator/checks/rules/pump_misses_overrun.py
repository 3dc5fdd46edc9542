"""A pump that stands still while the boiler wants it to run on."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import CIRCULATED
from generator.circuit.elements import Contact, Load
from generator.circuit.potentials import table_or
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every boiler with overrun, in every reachable state in which its pump line is made."""
    contacts = [contact for source in subject.sources(CIRCULATED)
                for contact in _overruns(subject, source.part)]
    pumps = [load for load in subject.circuit.loads if load.kind == "pump"]
    asked = sum(count(_overrun(subject, contact)) for contact in contacts)
    return verdict(asked, "reachable states in which a boiler wants its pump to run",
                   (f for contact in contacts for f in _missed(subject, contact, pumps)))


def _overruns(subject: Subject, boiler: str) -> list[Contact]:
    """Return the contacts of a boiler that stay closed for a time after its call has ended."""
    positions = subject.wall.parts[boiler].part.positions
    late = {subject.circuit.index[f"{boiler}.{name}"] for name, position in positions.items()
            if position.shuts_in != position.opens_in}
    return [contact for contact in subject.circuit.contacts
            if contact.part == boiler and any(v in late and value for v, value in contact.when)]


def _overrun(subject: Subject, contact: Contact) -> int:
    return (subject.potentials.closed(contact) & subject.reachable
            & subject.potentials.at(subject.potentials.line, contact.b))


def _missed(subject: Subject, contact: Contact, pumps: list[Load]) -> Iterator[Finding]:
    overrun = _overrun(subject, contact)
    # A second pump, of an underfloor manifold, runs on its own; one that runs on is enough.
    missed = overrun & ~table_or(map(subject.potentials.runs, pumps))
    if not missed:
        return
    named = f"`{pumps[0].part}` stands still" if pumps else "No pump runs"
    yield Finding(
        RULE.name, RULE.severity, f"{named} while `{contact.part}` wants it to run on.",
        tuple(_places(subject, contact, pumps)),
        found=f"in {count(missed)} of {count(overrun)} states of its overrun no pump runs",
        expected=f"the pump on `{contact.b}`, and on nothing else",
        hint="the heat left in the boiler is carried away by the pump after the call has ended",
        state=subject.shown(missed, overrun))


def _places(subject: Subject, contact: Contact, pumps: list[Load]) -> Iterator[Place]:
    for pump in pumps:
        yield from subject.landing_places(pump.a)
    yield from subject.landing_places(contact.b)
    yield from (pump.place.noted(note(pump)) for pump in pumps)
    yield contact.place.noted("the boiler with overrun")


RULE = Rule(
    "pump-misses-overrun",
    "Pump misses the overrun",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "with overrun the pump is wired to the boiler's pump terminals, not "
                              "to the switched line; it runs on for 5 to 10 minutes"),
    ),
    judge,
)
