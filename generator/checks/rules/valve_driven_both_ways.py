"""A valve whose opening and closing lines are live together."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Load
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every valve with two motor lines, in every reachable state in which one is live."""
    pairs = [pair for device in subject.circuit.devices
             for pair in combinations(map(subject.circuit.load.__getitem__, device.loads), 2)
             if {load.kind for load in pair} == {"motor"}]
    return verdict(sum(count(_one(subject, *pair)) for pair in pairs),
                   "reachable states in which a motor line of a valve is live",
                   (f for pair in pairs for f in _both(subject, *pair)))


def _one(subject: Subject, one: Load, other: Load) -> int:
    runs = subject.potentials.runs
    return (runs(one) | runs(other)) & subject.reachable


def _both(subject: Subject, one: Load, other: Load) -> Iterator[Finding]:
    both = _one(subject, one, other)
    both &= subject.potentials.runs(one) & subject.potentials.runs(other)
    if not both:
        return
    places, state, path = subject.feeding(both, subject.reachable, other)
    first, _, _ = subject.feeding(both, subject.reachable, one)
    yield Finding(
        RULE.name, RULE.severity, f"`{one.a}` and `{other.a}` are live together.",
        tuple(dict.fromkeys((*places, *first))),
        found=f"in {count(both)} states `{one.part}` is driven both ways at once",
        expected="the two lines over the two sides of one change-over contact",
        hint="driven both ways the motor hums, stands still and burns", state=state, path=path)


RULE = Rule(
    "valve-driven-both-ways",
    "Valve is driven both ways",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "a valve driven both ways takes opening and closing over one "
                            "change-over contact"),
    ),
    judge,
)
