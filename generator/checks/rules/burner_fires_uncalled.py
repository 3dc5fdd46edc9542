"""A burner that fires in a settled state in which no zone calls: there is no interlock."""

from __future__ import annotations

from generator.checks.evidence import Evidence
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import CIRCULATED
from generator.circuit.elements import HeatSource
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every source that heats circulating water, in every settled state without a call.

    Not in travelling states: a valve that runs shut keeps its end switch closed for seconds.
    """
    uncalled = subject.settled & ~subject.calling()
    return verdict(len(subject.sources(CIRCULATED)) * count(uncalled),
                   "settled states in which no zone calls",
                   (_finding(_past(subject), uncalled, *case)
                    for case in subject.firing(uncalled)))


def _past(subject: Subject) -> str:
    """Return what a feed to the burner should come over, and here goes round."""
    valves = any(zone.valve for zone in subject.circuit.zones)
    return "the end switch of an open valve" if valves else "the contact of the control that calls"


def _finding(past: str, uncalled: Table, source: HeatSource, fires: Table,
             evidence: Evidence) -> Finding:
    places, state, path = evidence
    return Finding(
        RULE.name, RULE.severity, f"`{source.name}` fires though no zone calls.", places,
        found=f"it fires in {count(fires)} of {count(uncalled)} settled states without a call",
        expected=f"no call, no heat: {past} is the only way to it",
        hint=f"take out the factory link; look for a feed round {past}",
        state=state, path=path)


RULE = Rule(
    "burner-fires-uncalled",
    "Burner fires though nothing calls",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15: without demand "
                               "heat source and pump are off; 5.25: fit an interlock"),
        Basis(Known.PRACTICE, "a boiler's factory link comes out when external controls go in"),
    ),
    judge,
)
