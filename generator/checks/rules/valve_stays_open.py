"""A valve that stays open when its zone no longer calls, though no motor holds it there."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone's valve, in every settled state without its call, supplied and healthy.

    A motor that runs without its zone's call is another rule's; so is a valve with several ways.
    """
    zones = {zone.valve: zone for zone in subject.circuit.zones if subject.ways(zone) == 1}
    cases = [(zone, _uncalled(subject, zone)) for zone in zones.values()]
    return verdict(sum(count(uncalled) for _, uncalled in cases),
                   "settled states in which a zone does not call",
                   (f for zone, uncalled in cases for f in _open(subject, zone, uncalled)))


def _uncalled(subject: Subject, zone: Zone) -> Table:
    return subject.able() & ~subject.calls(zone)


def _open(subject: Subject, zone: Zone, uncalled: Table) -> Iterator[Finding]:
    driven = table_or(map(subject.potentials.runs, subject.openers(zone)))
    still = uncalled & subject.opened(zone) & ~driven
    if not still:
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"`{zone.valve}` stays open though `{zone.name}` does not call.",
        tuple(_places(subject, zone)),
        found=f"open in {count(still)} of {count(uncalled)} settled states without its call",
        expected="the end of the call shuts it: by a spring, or by a line that winds it shut",
        hint="find the line that should wind it shut, and what it is live over",
        state=subject.shown(still, uncalled))


def _places(subject: Subject, zone: Zone) -> Iterator[Place]:
    opening = subject.openers(zone)
    closing = [load for load in subject.motors(zone) if load not in opening]
    for load in closing:
        yield from (core.place.noted(note(core)) for core in subject.landed(load.a))
    yield subject.wall.parts[zone.valve].place.noted("the valve")
    yield zone.place.noted("its zone")


RULE = Rule(
    "valve-stays-open",
    "Valve stays open after its call",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.16: stored hot water "
                               "has time and temperature control of its own"),
        Basis(Known.MEMORY, "a valve that motors drive both ways stays where it is without a line "
                            "that winds it shut"),
    ),
    judge,
)
