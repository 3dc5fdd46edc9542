"""A heater in the stored water that can run with its own cut-out tripped, or that has none."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import STORED
from generator.circuit.elements import HeatSource
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every source that heats stored water, in every reachable state in which it runs.

    One that has no supply never runs, and is not asked about.
    """
    cases = [(source, subject.potentials.fires(source) & subject.reachable)
             for source in subject.sources(STORED)]
    return verdict(sum(count(fires) for _, fires in cases),
                   "reachable states in which a heater in the stored water runs",
                   (f for case in cases for f in _unguarded(subject, *case)))


def _unguarded(subject: Subject, source: HeatSource, fires: Table) -> Iterator[Finding]:
    own = subject.own_cut_out(source)
    tripped = table_or(subject.potentials.condition((each,)) for each in own)
    unguarded = fires & tripped if own else fires
    if not unguarded:
        return
    places, state, path = subject.feeding(unguarded, subject.reachable, subject.deciding(source))
    message = "runs though its own cut-out has tripped" if own else "has no cut-out of its own"
    yield Finding(
        RULE.name, RULE.severity, f"`{source.name}` {message}.",
        places if own else (source.place, *places),
        found="a path round its cut-out" if own else "a heater without a cut-out switch",
        expected="each heater stopped by a hand-reset cut-out of its own, in series",
        state=state, path=path)


RULE = Rule(
    "heat-source-without-cut-out",
    "Heat source without a cut-out of its own",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document G (2015 edition with 2016 amendments) 3.33: each "
                               "heat source its own non-self-resetting cut-out; 3.13a: direct "
                               "sources of vented cylinders too"),
    ),
    judge,
)
