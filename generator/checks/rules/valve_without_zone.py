"""A valve that no zone opens, or a boiler for whose water no zone calls."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import CIRCULATED, SHUT
from generator.circuit.elements import HeatSource, part_of
from generator.findings import Finding, Severity
from generator.recipe.wall import Mounted


def judge(subject: Subject) -> Verdict:
    """Ask of every part that can be shut and of every source of circulated water."""
    valves = [part for part in subject.wall.parts.values() if _shuts(part)]
    sources = subject.sources(CIRCULATED)
    return verdict(len(valves) + len(sources), "valves, and sources of circulated water",
                   (*(f for part in valves for f in _unzoned(subject, part)),
                    *(f for source in sources for f in _uncalled(subject, source))))


def _shuts(part: Mounted) -> bool:
    return any(SHUT in (each.rest, each.worked) for each in part.part.positions.values())


def _unzoned(subject: Subject, part: Mounted) -> Iterator[Finding]:
    zones = subject.circuit.zones
    # A way inside a boiler opens with it; a boiler may serve a zone without any valve.
    serve = {part_of(name) for zone in zones for name in zone.served_by} if part.part.heat else ()
    if part.designation not in {*(zone.valve for zone in zones), *serve}:
        yield Finding(
            RULE.name, RULE.severity, f"The valve `{part.designation}` belongs to no zone.",
            (part.place.noted("the valve"),),
            found=f"no zone with `valve: {part.designation}`",
            expected=f"a zone with `valve: {part.designation}` and what calls for it",
            hint="without its zone nothing is proved of the valve: not that it opens, nor that "
                 "it shuts")


def _uncalled(subject: Subject, source: HeatSource) -> Iterator[Finding]:
    if not subject.circuit.zones:
        place = subject.wall.parts[source.part].place
        yield Finding(
            RULE.name, RULE.severity, f"No zone calls for what `{source.name}` heats.",
            (place.noted("the heat source"),), found="no `zones:`",
            expected="a zone for each part of the house that is heated on its own call",
            hint="without zones nobody can tell a call from a burner that fires by itself")


RULE = Rule(
    "valve-without-zone",
    "Valve or boiler that no zone calls",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15 and 5.16: off "
                               "without demand, and stored hot water on a time control of its own"),
        Basis(Known.PRACTICE, "each valve opens on the call of its own zone"),
    ),
    judge,
)
