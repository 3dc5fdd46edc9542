"""An unvented cylinder for which no cut-out is named, or whose named part holds none."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import UNVENTED
from generator.circuit.elements import Zone
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every zone that stores an unvented cylinder."""
    zones = [zone for zone in subject.circuit.zones if zone.stores == UNVENTED]
    return verdict(len(zones), "zones with an unvented cylinder",
                   (f for zone in zones if not zone.cut_out for f in _missing(subject, zone)))


def _missing(subject: Subject, zone: Zone) -> Iterator[Finding]:
    named = subject.wall.system.zones[zone.name].cut_out
    if named is None:
        places: tuple[Place, ...] = (zone.place,)
        message, found = f"`{zone.name}` has no cut-out.", "no `cut-out:`"
    else:
        part = subject.wall.parts[named]
        places = (subject.wall.source.place("zones", zone.name, "cut-out"),
                  part.place.noted("the part"))
        message = f"`{named}`, named as the cut-out of `{zone.name}`, is none."
        found = f"a {part.part.name}"
    yield Finding(
        RULE.name, RULE.severity, message, places, found=found,
        expected="a part with a cut-out switch that is reset by hand",
        hint="a thermostat controls and does not protect; the cut-out comes besides it")


RULE = Rule(
    "cut-out-missing",
    "Cut-out is missing",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document G (2015 edition with 2016 amendments) 3.17 and "
                               "3.18: two safety devices besides the thermostat, one of them a "
                               "non-self-resetting cut-out"),
    ),
    judge,
)
