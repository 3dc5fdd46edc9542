"""A line joined to a neutral or to earth over closed contacts: the supply is shorted."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.potentials import Standing
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every terminal at which a supply arrives, in every reachable state."""
    return verdict(count(subject.reachable), "reachable states", _shorts(subject))


def _shorts(subject: Subject) -> Iterator[Finding]:
    for supply in subject.circuit.supplies:
        shorted = subject.potentials.standings(supply.line)[Standing.SHORT] & subject.reachable
        if not shorted:
            continue
        zeros = [*subject.neutrals(), *(s.earth for s in subject.circuit.supplies)]
        places, state, path = subject.evidence(shorted, subject.reachable, zeros, supply.line)
        yield Finding(
            RULE.name, RULE.severity,
            f"The line of `{supply.name}` is joined to {_met(subject, path)} over closed contacts.",
            tuple(dict.fromkeys((*_crossing(subject, path), *places))), found="a short circuit",
            expected="a load between line and neutral",
            state=state, path=path)


def _crossing(subject: Subject, path: tuple[str, ...]) -> tuple[Place, ...]:
    """Return the cores on the path whose two ends are made for different things."""
    made = {t.name: t.carries for t in subject.circuit.terminals if t.carries != "anything"}
    return tuple(core.place.noted(note(core)) for core in subject.along(path)
                 if core.a in made and core.b in made and made[core.a] != made[core.b])


def _met(subject: Subject, path: tuple[str, ...]) -> str:
    earths = {supply.earth for supply in subject.circuit.supplies}
    return "earth" if path[0] in earths else "neutral"


RULE = Rule(
    "line-meets-neutral",
    "Line meets neutral or earth",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "a supply joined to itself without a load trips or burns"),),
    judge,
)
