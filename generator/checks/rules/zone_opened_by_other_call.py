"""A zone valve that is driven though its own zone does not call: a back-feed, a latch, a swap."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone, in every state that lasts and in which nothing calls that opens it.

    Not while a relay waits before it drops out: its own call began that. Of one way of several in
    settled states, and only what alone opens it: the motor of such a valve may stay live while
    nothing calls. Of a zone without a valve while another zone calls.
    """
    cases = [(zone, _uncalled(subject, zone)) for zone in subject.circuit.zones
             if not zone.valve or subject.ways(zone) == 1 or subject.one_of_several(zone)]
    return verdict(sum(count(uncalled) for _, uncalled in cases),
                   "states that last in which a zone does not call",
                   (f for zone, uncalled in cases for f in (
                       _driven if zone.valve else _heated)(subject, zone, uncalled)))


def _uncalled(subject: Subject, zone: Zone) -> Table:
    if not zone.valve:
        return subject.able() & subject.calling() & ~subject.calls(zone)
    within = subject.settled if subject.one_of_several(zone) else subject.run_out
    return within & ~subject.calls(zone)


def _driven(subject: Subject, zone: Zone, uncalled: Table) -> Iterator[Finding]:
    openers = subject.starters if subject.one_of_several(zone) else subject.openers
    for load in openers(zone):
        driven = subject.potentials.runs(load) & uncalled
        if not driven:
            continue
        places, state, path = subject.feeding(driven, uncalled, load)
        yield Finding(
            RULE.name, RULE.severity,
            f"The motor of `{zone.way or zone.valve}` runs though `{zone.name}` does not call.",
            places,
            found=f"it runs in {count(driven)} of {count(uncalled)} states without its call",
            expected="the motor is fed by its own call and by nothing else",
            hint="orange goes to the boiler's switched line only; look for two calls on one way",
            state=state, path=path)


def _heated(subject: Subject, zone: Zone, uncalled: Table) -> Iterator[Finding]:
    # A pump that runs though nothing that it serves calls is another rule's.
    asked = [subject.potentials.runs(pump) & subject.asked_for(pump)
             for pump in subject.pumps(zone)]
    within = uncalled & (table_or(asked) if asked else uncalled)
    for source in subject.own_sources(zone):
        heated = subject.potentials.fires(source) & within
        if heated:
            places, state, path = subject.fired(source, heated, uncalled)
            yield Finding(
                RULE.name, RULE.severity,
                f"`{zone.name}` is heated though only another zone calls: no valve shuts it off.",
                (zone.place.noted("the zone"), *places),
                found=f"`{source.name}` fires in {count(heated)} of {count(uncalled)} states in "
                      "which only others call",
                expected="a valve of its own, or a pump of its own that keeps its heat away",
                hint="fit a two-port valve that opens on its call and fires the boiler",
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
