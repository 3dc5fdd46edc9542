"""A valve that stays open when its zone no longer calls, though no motor holds it there."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone's valve, in every settled state without its call, supplied and healthy.

    Of one way of several, only while another call fires the boiler: where nothing fires, such a
    valve rests where it is. A motor that runs without its zone's call is another rule's.
    """
    zones = {(zone.valve, zone.way): zone for zone in subject.circuit.zones
             if subject.ways(zone) == 1 or subject.one_of_several(zone)}
    cases = [(zone, _uncalled(subject, zone)) for zone in zones.values()]
    return verdict(sum(count(uncalled) for _, uncalled in cases),
                   "settled states in which a zone does not call",
                   (f for zone, uncalled in cases for f in _open(subject, zone, uncalled)))


def _uncalled(subject: Subject, zone: Zone) -> Table:
    able = subject.able() & ~subject.calls(zone)
    return able & subject.calling() if subject.one_of_several(zone) else able


def _open(subject: Subject, zone: Zone, uncalled: Table) -> Iterator[Finding]:
    still = uncalled & _open_undriven(subject, zone)
    if not still:
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"`{zone.way or zone.valve}` stays open though `{zone.name}` does not call.",
        tuple(_places(subject, zone)),
        found=f"open in {count(still)} of {count(uncalled)} settled states without its call",
        expected="the end of the call shuts it: by a spring, or by a line that winds it shut",
        hint="find the line that should wind it shut, and what it is live over",
        state=subject.shown(still, uncalled))


def _open_undriven(subject: Subject, zone: Zone) -> Table:
    several = subject.one_of_several(zone)
    opening = subject.starters(zone) if several else subject.openers(zone)
    driven = table_or(map(subject.potentials.runs, opening))
    return (subject.heated(zone) if several else subject.opened(zone)) & ~driven


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
