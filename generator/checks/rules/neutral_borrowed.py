"""A load joined to the line of one supply and to the neutral of another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Load, Supply
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every load that can be live, where the system has more than one supply."""
    pairs = tuple(permutations(subject.circuit.supplies, 2))
    loads = [load for load in subject.circuit.loads if pairs and _fed(subject, load)]
    return verdict(len(loads), "loads that can be live, in a system of several supplies",
                   (f for load in loads for fed, other in pairs
                    for f in _borrowed(subject, load, fed, other)))


def _fed(subject: Subject, load: Load) -> bool:
    return load.a in subject.ever_live or load.b in subject.ever_live


def _borrowed(subject: Subject, load: Load, fed: Supply, other: Supply) -> Iterator[Finding]:
    for line_end, neutral_end in ((load.a, load.b), (load.b, load.a)):
        table = _between(subject, fed, line_end, other, neutral_end)
        if not table:
            continue
        places, state, path = subject.evidence(
            table, subject.reachable, (other.neutral,), neutral_end)
        yield Finding(
            RULE.name, RULE.severity,
            f"The load `{load.name}` takes the line of `{fed.name}` and the neutral of "
            f"`{other.name}`.",
            places, found=f"`{neutral_end}` joined to the neutral of `{other.name}`",
            expected=f"line and neutral of `{fed.name}` alone", state=state, path=path)


def _between(subject: Subject, fed: Supply, line_end: str, other: Supply, end: str) -> Table:
    potentials = subject.potentials
    line = potentials.at(potentials.line_of[fed.name], line_end)
    return line & potentials.at(potentials.neutral_of[other.name], end) & subject.reachable


RULE = Rule(
    "neutral-borrowed",
    "Neutral is borrowed from another supply",
    Severity.ERROR,
    (Basis(Known.MEMORY, "BS 7671 314.4 and 521.5: line and neutral of one circuit run and return "
                         "together"),),
    judge,
)
