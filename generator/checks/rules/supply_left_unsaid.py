"""A load that ran before and can never run after, and no word of it to the owner."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.flat import Load
from generator.findings import Finding, Severity


def judge(subject: JobSubject) -> Verdict:
    """Ask of every load that can run in the found system whether it, or one in its place, can."""
    loads = [load for load in subject.found.circuit.loads if _runs(subject.found, load)]
    return verdict(len(loads), "loads that run in the found system",
                   (f for load in loads for f in _lost(subject, load)))


def _runs(side: Subject, load: Load) -> bool:
    return bool(side.potentials.runs(load) & side.reachable)


def _lost(subject: JobSubject, load: Load) -> Iterator[Finding]:
    fitted = subject.fitted
    still = fitted.circuit.load.get(load.name)
    runs = _runs(fitted, still) if still else _replaced(subject, load)
    if runs or subject.job.conversion.cost:
        return
    places = (subject.job.source.key_place("cost"), load.place.noted("ran before"))
    yield Finding(
        RULE.name, RULE.severity, f"`{load.name}` ran before and never runs again, unsaid.",
        (*places, still.place.noted("never runs")) if still else places,
        found="no `cost:`", expected="a sentence under `cost:` on what the owner loses",
        hint="say it in the owner's words, and before the job is quoted")


def _replaced(subject: JobSubject, load: Load) -> bool:
    """Return whether a load of the same kind runs in a part that was not there before."""
    fitted, before = subject.fitted, subject.found.wall.parts
    return any(other.kind == load.kind and other.part not in before and _runs(fitted, other)
               for other in fitted.circuit.loads)


RULE = Rule(
    "supply-left-unsaid",
    "What the owner loses is not said",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "an owner who loses a heater agrees to it before the job"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 9.1 and 9.2: the owner "
                               "is told how the system works"),
    ),
    judge,
)
