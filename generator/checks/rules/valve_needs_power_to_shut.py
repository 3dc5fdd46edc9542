"""A valve of an unvented cylinder that does not fall shut when its motor has no power."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import STORED, UNVENTED
from generator.circuit.elements import Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every valve before an unvented cylinder, in every settled state without power."""
    zones = [zone for zone in subject.circuit.zones
             if zone.stores == UNVENTED and not _heated_alone(subject, zone)]
    cases = [(zone, _unpowered(subject, zone)) for zone in zones]
    return verdict(sum(count(unpowered) for _, unpowered in cases),
                   "settled states without power to the valve of an unvented cylinder",
                   (f for zone, unpowered in cases for f in (
                       _stays_open(subject, zone, unpowered) if zone.valve else _no_valve(zone))))


def _heated_alone(subject: Subject, zone: Zone) -> bool:
    """Tell whether only immersion heaters serve a zone: without power they give no heat."""
    return not zone.valve and all(s.heats == STORED for s in subject.own_sources(zone))


def _unpowered(subject: Subject, zone: Zone) -> Table:
    return subject.settled & ~table_or(map(subject.potentials.runs, subject.motors(zone)))


def _stays_open(subject: Subject, zone: Zone, unpowered: Table) -> Iterator[Finding]:
    part, which = subject.wall.parts[zone.valve], zone.way or zone.valve
    # What no motor moves stands as it stands: nothing shuts it when power goes.
    still_open = unpowered & subject.opened(zone) if subject.motors(zone) else unpowered
    if not still_open:
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"`{which}` is not shut when its motor has no power, before an unvented cylinder.",
        (part.place.noted("the valve"), zone.place.noted("its zone")), found=f"a {part.part.name}",
        expected="a valve that a motor winds open and a spring shuts",
        hint="fit a spring-return two-port valve in the primary flow, operated through the cut-out",
        state=subject.shown(still_open, unpowered))


def _no_valve(zone: Zone) -> Iterator[Finding]:
    yield Finding(
        RULE.name, RULE.severity,
        f"No valve shuts off `{zone.name}`, an unvented cylinder, when power goes.",
        (zone.place.noted("the zone"),), found="no `valve:`",
        expected="a valve that a motor winds open and a spring shuts",
        hint="fit a spring-return two-port valve in the primary flow, operated through the cut-out")


RULE = Rule(
    "valve-needs-power-to-shut",
    "Valve needs power to shut",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document G (2015 edition with 2016 amendments) 3.31: what "
                               "the cut-out works through shuts off the heat when supply is lost"),
        Basis(Known.PRACTICE, "that means a spring-return, normally shut valve; a valve driven "
                              "both ways, or a mid-position valve alone, fails it (inference)"),
    ),
    judge,
)
