"""A burner that fires while every zone valve is shut, so that its water cannot go round."""

from __future__ import annotations

from generator.checks.evidence import Evidence
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import CIRCULATED
from generator.circuit.elements import HeatSource
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every source that heats circulating water, in every state that lasts with all shut."""
    shut = subject.lasting & ~subject.any_open()
    pumped = any(not zone.valve for zone in subject.circuit.zones)
    while_shut = "no zone valve is open and no zone's pump runs" if pumped \
        else "every zone valve is shut"
    return verdict(len(subject.sources(CIRCULATED)) * count(shut),
                   "states that last with every zone valve shut",
                   (_finding(while_shut, shut, *case) for case in subject.firing(shut)))


def _finding(while_shut: str, shut: Table, source: HeatSource, fires: Table,
             evidence: Evidence) -> Finding:
    places, state, path = evidence
    return Finding(
        RULE.name, RULE.severity, f"`{source.name}` fires while {while_shut}.", places,
        found=f"it fires in {count(fires)} of {count(shut)} states with all shut",
        expected="the switched line of the boiler comes over the end switch of an open valve",
        hint="what calls opens a valve, and the valve's end switch fires the boiler",
        state=state, path=path)


RULE = Rule(
    "burner-fires-against-shut-valves",
    "Burner fires against shut valves",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15: wired so that "
                               "heat source and pump are off without demand"),
        Basis(Known.PRACTICE, "an end switch fires the boiler only when its valve is fully open; "
                              "a frost thermostat bridges the demand so that the valve opens"),
    ),
    judge,
)
