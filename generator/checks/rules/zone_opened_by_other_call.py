"""A zone valve that is driven though its own zone does not call: a back-feed, a latch, a swap."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Zone
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone's valve, in every state that lasts and in which no zone of it calls.

    Not of a valve with several ways: its motor may stay live while nothing calls.
    """
    cases = [(zone, subject.lasting & ~subject.calls(zone))
             for zone in subject.circuit.zones if subject.ways(zone) == 1]
    return verdict(sum(count(uncalled) for _, uncalled in cases),
                   "states that last in which a zone does not call",
                   (f for zone, uncalled in cases for f in _driven(subject, zone, uncalled)))


def _driven(subject: Subject, zone: Zone, uncalled: Table) -> Iterator[Finding]:
    for load in subject.openers(zone):
        driven = subject.potentials.runs(load) & uncalled
        if not driven:
            continue
        places, state, path = subject.feeding(driven, uncalled, load)
        yield Finding(
            RULE.name, RULE.severity,
            f"The motor of `{zone.valve}` runs though `{zone.name}` does not call.", places,
            found=f"it runs in {count(driven)} of {count(uncalled)} states without its call",
            expected="the motor is fed by its own call and by nothing else",
            hint="orange goes to the boiler's switched line only; look for two calls on one way",
            state=state, path=path)


RULE = Rule(
    "zone-opened-by-other-call",
    "Zone opened by another call",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.16: hot water on a "
                               "time control independent of heating"),
        Basis(Known.PRACTICE, "brown of a two-port valve is live only while that zone calls"),
    ),
    judge,
)
