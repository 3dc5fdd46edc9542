"""A single fault that makes a difference somewhere, and that neither live nor dead tests show."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.findings import Finding, Severity
from generator.sitework.changes import changes
from generator.sitework.coverage import Covered, coverage, difference
from generator.sitework.isolation import opened_parts


def judge(subject: Subject) -> Verdict:
    """Ask of every single fault, every part opened that has something landed in it."""
    return _judged(subject, None)


def judge_job(job: JobSubject) -> Verdict:
    """Ask the same of a conversion, where only the parts are open that it opens."""
    return _judged(job.fitted, opened_parts(changes(job.job)))


def _judged(subject: Subject, opened: Collection[str] | None) -> Verdict:
    covered = coverage(subject, opened).faults
    return verdict(len(covered), "single faults", _missed(subject, covered))


def _missed(subject: Subject, faults: Collection[Covered]) -> Iterator[Finding]:
    for fault in (covered.fault for covered in faults if covered.missed):
        terminal, table = difference(subject, fault)
        yield Finding(
            RULE.name, RULE.severity, f"No test on site shows this: {fault.words}.",
            (fault.place, subject.circuit.terminal[terminal].place.noted(f"terminal {terminal}")),
            found=f"`{terminal}` then differs, and nothing that is seen, read or measured does",
            expected="a test that shows it, live or dead",
            hint="lead the net over a way of a terminal strip, where it can be read",
            state=subject.shown(table, subject.reachable))


RULE = Rule(
    "fault-shows-in-no-test",
    "Fault shows in no test",
    Severity.WARNING,
    (Basis(Known.PRACTICE, "what is not tested is not known; the model says what a test shows"),),
    judge,
)
