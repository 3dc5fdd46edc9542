"""A zone that is heated over the contact that its thermostat closes when it is satisfied."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact, Zone
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone with a thermostat, in every settled state in which only that says no."""
    cases = [case for zone in subject.circuit.zones for case in _cases(subject, zone)]
    return verdict(sum(count(satisfied) for _, _, satisfied in cases),
                   "settled states in which a zone's thermostat is satisfied and all else calls",
                   (f for case in cases for f in _heated(subject, *case)))


def _cases(subject: Subject, zone: Zone) -> Iterator[tuple[Zone, int, Table]]:
    able = subject.able()
    for v, _ in zone.call:
        if subject.circuit.variables[v].kind == "temperature":
            no = tuple((each, wanted != (each == v)) for each, wanted in zone.call)
            yield zone, v, subject.potentials.condition(no) & able


def _heated(subject: Subject, zone: Zone, v: int, satisfied: Table) -> Iterator[Finding]:
    value = dict(zone.call)[v]
    for contact in subject.circuit.contacts:
        heated = satisfied & subject.opened(zone) & _drives(subject, zone, contact)
        if (v, not value) in contact.when and heated:
            yield _finding(subject, zone, contact, (heated, satisfied))


def _drives(subject: Subject, zone: Zone, contact: Contact) -> Table:
    """Return where a contact alone opens the zone's valve, or fires the boiler for it."""
    # On a mid-position valve satisfied winds the way to the cylinder shut.
    loads = [*(subject.motors(zone) if subject.ways(zone) == 1 else ()), *subject.serving(zone),
             *(subject.deciding(source) for source in subject.own_sources(zone))]
    carried = 0
    for load, table in subject.only_through(contact):
        carried |= table if load in loads else 0
    return carried


def _finding(subject: Subject, zone: Zone, contact: Contact,
             tables: tuple[Table, Table]) -> Finding:
    heated, satisfied = tables
    cores = (core for end in (contact.b, contact.a) for core in subject.landed(end))
    return Finding(
        RULE.name, RULE.severity,
        f"`{zone.name}` is heated over `{contact.name}`, closed while the thermostat is satisfied.",
        (*(core.place.noted(note(core)) for core in cores),
         contact.place.noted("the thermostat"), zone.place.noted("the zone")),
        found=f"heated in {count(heated)} of {count(satisfied)} settled states that ask for none",
        expected="the terminal that is live while it is cold",
        hint="numbers differ between makes: find call with a meter, dial turned up and down",
        state=subject.shown(heated, satisfied))


RULE = Rule(
    "satisfied-used-for-call",
    "Satisfied is used for call",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "common to call makes on fall, common to satisfied on rise; numbers "
                              "vary, so it is verified; two zones use common and call only"),
    ),
    judge,
)
