"""Which rules a system or a conversion is asked, and what each says."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from generator.checks.catalogue import FOUND_RULES, JOB_RULES, ON_PAPER, SYSTEM_RULES
from generator.checks.rule import Rule, Verdict
from generator.checks.subject import JobSubject, Subject
from generator.findings import Severity
from generator.judging.judged import Verdicts
from generator.sitework.catalogue import SITE_JOB_RULES
from generator.sitework.rules import fault_shows_in_no_test


def system_verdicts(system: Subject) -> Verdicts:
    """Return what every rule says of a system, and whether its tests would miss a fault."""
    def tests() -> Verdict | None:
        standard = system.wall.system.stands == "standard"
        return fault_shows_in_no_test.judge(system) if standard else None

    return _with_tests(tuple(_system(system)), tests)


def job_verdicts(job: JobSubject) -> Verdicts:
    """Return what every rule says of a conversion and of the system that it fits."""
    verdicts = _with_tests(tuple(_job(job)), lambda: fault_shows_in_no_test.judge_job(job))
    if _wrong(verdicts):
        return verdicts
    return (*verdicts, *((rule, rule.judge(job)) for rule in SITE_JOB_RULES))


def _system(system: Subject) -> Iterator[tuple[Rule[Any], Verdict]]:
    """Only the company's own systems are held to every rule; what is found is as it is."""
    if system.wall.system.stands == "standard":
        yield from ((rule, rule.judge(system)) for rule in SYSTEM_RULES)
    else:
        yield from ((rule, _as_warnings(rule.judge(system))) for rule in FOUND_RULES)


def _with_tests(verdicts: Verdicts, judge: Callable[[], Verdict | None]) -> Verdicts:
    """Add what the tests on site would miss; a circuit with errors has no tests worth the name."""
    missed = None if _wrong(verdicts) else judge()
    return (*verdicts, (fault_shows_in_no_test.RULE, missed)) if missed else verdicts


def _wrong(verdicts: Verdicts) -> bool:
    return any(f.severity is Severity.ERROR for _, verdict in verdicts for f in verdict.findings)


def _as_warnings(verdict: Verdict) -> Verdict:
    return replace(verdict, findings=tuple(
        replace(finding, severity=Severity.WARNING) for finding in verdict.findings))


def _job(job: JobSubject) -> Iterator[tuple[Rule[Any], Verdict]]:
    """What the fitted system does wrong would come back as a dozen faults of the conversion."""
    fitted = tuple(_system(job.fitted))
    yield from fitted
    yield from ((rule, rule.judge(job)) for rule in (ON_PAPER if _wrong(fitted) else JOB_RULES))
