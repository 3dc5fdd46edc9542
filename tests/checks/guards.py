"""What every guard module asserts: a rule is asked, and what it says is said whole."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from generator.checks.catalogue import JOB_RULES
from generator.checks.rule import Rule
from generator.checks.subject import JobSubject
from generator.findings import Finding


def asked_of(rule: Rule[Any], job: JobSubject) -> tuple[int, tuple[Finding, ...]]:
    """Return how often a rule is asked of a conversion or its fitted system, and what it finds."""
    verdict = rule.judge(job if rule in JOB_RULES else job.fitted)
    return verdict.asked, verdict.findings


def assert_said_whole(rule: Rule[Any], words: str, findings: Iterable[Finding]) -> None:
    """Assert that some finding holds the words, and that each is the rule's and complete."""
    findings = tuple(findings)
    assert any(words in finding.message for finding in findings), findings
    for finding in findings:
        assert (finding.rule, finding.severity) == (rule.name, rule.severity)
        assert finding.places
        assert finding.found
        assert finding.expected
