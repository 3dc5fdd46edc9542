"""Loads in series: each gets a part of the supply, and whether it runs nobody can say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.potentials import Potentials, Standing, solve
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every net, in every reachable state.

    What a drive holds between two of its own lines is left out: it is no load in series, and what
    reads through it is not predictable.
    """
    nets, inner = subject.potentials.nets.terminals(), subject.inner_feeds()
    loads = tuple(load for load in subject.circuit.loads if load not in inner)
    apart = solve(replace(subject.circuit, loads=loads)) if inner else subject.potentials
    return verdict(len(nets), "nets, in every reachable state",
                   (f for terminals in nets for f in _between(subject, apart, terminals)))


def _between(
    subject: Subject, apart: Potentials, terminals: tuple[str, ...]
) -> Iterator[Finding]:
    standings = apart.standings(terminals[0])
    between = standings[Standing.BETWEEN] & subject.reachable
    # A terminal on which nothing lands only hangs on the load beside it.
    goal = next((t for t in terminals if subject.landed(t)), None)
    if not between or goal is None:
        return
    places, state, path = subject.evidence(
        between, subject.reachable, subject.lines(), goal, through_loads=True)
    yield Finding(
        RULE.name, RULE.severity,
        f"`{goal}` stands between line and neutral, with a load on either side.",
        (*subject.landing_places(goal), *places),
        found="loads in series, each with a part of the 230 V",
        expected="one load between a line and a neutral",
        hint="a light load in series with a heavy one gets nearly all and may run",
        state=state, path=path)


RULE = Rule(
    "loads-in-series",
    "Loads stand in series",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "two loads in series share the supply by their resistance; a control "
                           "input needs so little that it runs through a motor"),),
    judge,
)
