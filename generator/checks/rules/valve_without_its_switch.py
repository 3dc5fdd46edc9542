"""A valve whose end switch is not wired through, so that its zone tells the boiler nothing."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Zone
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every zone whose valve has an end switch."""
    zones = {zone.valve: zone for zone in subject.circuit.zones if subject.end_switch(zone)}
    return verdict(len(zones), "zone valves with an end switch",
                   (f for zone in zones.values() for f in _bare(subject, zone)))


def _bare(subject: Subject, zone: Zone) -> Iterator[Finding]:
    bare = subject.bare_switch(zone)
    ends = [end for contact in subject.end_switch(zone) for end in (contact.a, contact.b)]
    half = 0 < len(bare) < len(ends)
    # With neither core landed the boiler may be called in another way; then nothing is wrong.
    if not half and not (bare and subject.unheated(zone)):
        return
    part = subject.wall.parts[zone.valve]
    cores = [core for end in ends for core in subject.landed(end)]
    yield Finding(
        RULE.name, RULE.severity, f"Nothing lands on {listed(bare, 'and')}, the end switch of "
        f"`{zone.valve}`.",
        (*(core.place.noted(f"{note(core)}: the other side") for core in cores),
         part.place.noted("the valve"), zone.place.noted("its zone")),
        found=f"{len(ends) - len(bare)} of {len(ends)} ends of the end switch landed",
        expected="line on one side, the boiler's switched line on the other",
        hint="the valve opens and calls no heat, unless another zone calls too")


RULE = Rule(
    "valve-without-its-switch",
    "Valve without its switch",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "grey takes permanent line, orange goes to the boiler; a valve added "
                              "without them opens and nothing fires"),
    ),
    judge,
)
