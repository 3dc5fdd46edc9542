"""A single fault that makes a difference somewhere, and that neither live nor dead tests show."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.faults import Fault
from generator.findings import Finding, Severity
from generator.recipe.words import Expected
from generator.sitework.changes import changes
from generator.sitework.coverage import coverage
from generator.sitework.openings import openings
from generator.sitework.trials import trials
from generator.sitework.unseen import difference


def judge(subject: Subject) -> Verdict:
    """Ask of every single fault, every part opened that has something landed in it."""
    return _judged(subject, None, ())


def judge_job(job: JobSubject) -> Verdict:
    """Ask the same of a conversion, where only the parts are open that it opens."""
    return _judged(job.fitted, openings(job, changes(job.job)),
                   job.job.conversion.expect)


def _judged(subject: Subject, opened: Collection[str] | None, cases: Sequence[Expected]
            ) -> Verdict:
    covered = coverage(subject, opened)
    missed = [*(c.fault for c in covered.faults if c.missed),
              *trials(subject, covered, cases).missed]
    return verdict(len(covered.faults), "single faults", _findings(subject, missed))


def _findings(subject: Subject, missed: Iterable[Fault]) -> Iterator[Finding]:
    for fault in missed:
        terminal, table = difference(subject, fault)
        # A fault may differ only while a core is taken off for a test: then no terminal is named.
        places = [subject.circuit.terminal[t].place.noted(f"terminal {t}") for t in [terminal] if t]
        yield Finding(
            RULE.name, RULE.severity, f"No test on site shows this: {fault.words}.",
            (fault.place, *places),
            found=f"`{terminal}` differs, and nothing that is seen, read or measured does"
            if terminal else "it shows only in a setting that nobody tries",
            expected="a test that shows it, live or dead",
            hint="lead the net over a way of a terminal strip, where it can be read",
            state=subject.shown(table, subject.reachable) if table else ())


RULE = Rule(
    "fault-shows-in-no-test",
    "Fault shows in no test",
    Severity.WARNING,
    (Basis(Known.PRACTICE, "what is not tested is not known; the model says what a test shows"),),
    judge,
)
