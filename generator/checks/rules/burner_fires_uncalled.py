"""A burner that fires in a settled state in which no zone calls: there is no interlock."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import CIRCULATED, Subject
from generator.circuit.flat import HeatSource
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every source that heats circulating water, in every settled state without a call.

    Not in travelling states: a valve that runs shut keeps its end switch closed for seconds.
    """
    sources = subject.sources(CIRCULATED) if subject.circuit.zones else ()
    uncalled = subject.settled & ~subject.calling()
    return verdict(len(sources) * count(uncalled), "settled states in which no zone calls",
                   (f for source in sources for f in _fires(subject, source, uncalled)))


def _fires(subject: Subject, source: HeatSource, uncalled: Table) -> Iterator[Finding]:
    fires = subject.potentials.fires(source) & uncalled
    if not fires:
        return
    places, state, path = subject.feeding(fires, uncalled, subject.deciding(source))
    yield Finding(
        RULE.name, RULE.severity, f"`{source.name}` fires though no zone calls.", places,
        found=f"it fires in {count(fires)} of {count(uncalled)} settled states without a call",
        expected="no call, no heat: the end switch of an open valve is the only way to it",
        hint="take out the factory link; look for a feed round the end switches",
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
