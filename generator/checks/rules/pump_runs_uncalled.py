"""A pump that runs in a settled state in which no zone calls."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import PUMP
from generator.circuit.elements import Load
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every pump, in every settled state without a call; its overrun has ended by then.

    Of a pump that zones name as theirs, in every settled state in which none of those calls.
    """
    pumps = [load for load in subject.circuit.loads if load.kind == PUMP and subject.circuit.zones]
    uncalled = [subject.settled & ~subject.asked_for(pump) for pump in pumps]
    return verdict(sum(map(count, uncalled)), "settled states in which no zone calls",
                   (f for pair in zip(pumps, uncalled, strict=True) for f in _runs(subject, *pair)))


def _runs(subject: Subject, pump: Load, uncalled: Table) -> Iterator[Finding]:
    runs = subject.potentials.runs(pump) & uncalled
    if not runs:
        return
    named = any(pump.name in zone.served_by for zone in subject.circuit.zones)
    whose = "that names it " if named else ""
    places, state, path = subject.feeding(runs, uncalled, pump)
    yield Finding(
        RULE.name, RULE.severity, f"`{pump.part}` runs though no zone {whose}calls.", places,
        found=f"it runs in {count(runs)} of {count(uncalled)} settled states without a call",
        expected="no call, no pump; at most an overrun that ends by itself",
        hint="take it from the switched line, or from the boiler's pump terminals",
        state=state, path=path)


RULE = Rule(
    "pump-runs-uncalled",
    "Pump runs though nothing calls",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15: without demand "
                               "heat source and pump are off"),
    ),
    judge,
)
