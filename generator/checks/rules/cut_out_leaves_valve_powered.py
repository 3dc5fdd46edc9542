"""A tripped overheat cut-out that leaves the hot-water valve powered, and so open."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Zone
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone that stores water, in every state that lasts with its cut-out tripped.

    Where no motor opens the valve, or there is none, what it is heated by must stop.
    """
    zones = [zone for zone in subject.circuit.zones if zone.cut_out]
    asked = sum(count(_tripped(subject, zone)) for zone in zones)
    return verdict(asked, "states that last with a cut-out tripped",
                   (f for zone in zones for f in (
                       _powered if zone.valve and not subject.one_of_several(zone) else _heated
                   )(subject, zone)))


def _tripped(subject: Subject, zone: Zone) -> Table:
    return subject.potentials.condition(zone.cut_out) & subject.lasting


def _powered(subject: Subject, zone: Zone) -> Iterator[Finding]:
    for load in subject.openers(zone):
        powered = subject.potentials.runs(load) & _tripped(subject, zone)
        if not powered:
            continue
        places, state, path = subject.feeding(powered, subject.reachable, load)
        yield Finding(
            RULE.name, RULE.severity,
            f"The motor of `{zone.valve}` still runs after the cut-out of `{zone.name}` tripped.",
            places, found="a path round the cut-out",
            expected="the cut-out in series with the motor on its line side",
            state=state, path=path)


def _heated(subject: Subject, zone: Zone) -> Iterator[Finding]:
    for source in subject.own_sources(zone):
        within = _tripped(subject, zone) & subject.settled
        fires = subject.potentials.fires(source) & subject.opened(zone) & within
        if fires:
            places, state, path = subject.fired(source, fires, subject.reachable)
            yield Finding(
                RULE.name, RULE.severity,
                f"`{source.name}` still heats `{zone.name}` after its cut-out tripped.", places,
                found="a path round the cut-out, and no valve that it shuts",
                expected="a valve that the cut-out shuts, or the cut-out in series with the source",
                hint="what fires for another zone heats this one too; only a valve keeps it away",
                state=state, path=path)


RULE = Rule(
    "cut-out-leaves-valve-powered",
    "Cut-out leaves the valve powered",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document G (2015 edition with 2016 amendments) 3.28, 3.30 "
                               "and 3.31"),
        Basis(Known.PRACTICE, "call, thermostat, cut-out and motor stand in series"),
    ),
    judge,
)
