"""What came of judging: a recipe with its verdicts, and the combinations that are not offered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.checks.catalogue import JOB_RULES
from generator.checks.rule import Rule, Verdict
from generator.checks.subject import JobSubject, Subject
from generator.findings import Finding, in_order
from generator.recipe.variants import Variant
from generator.recipe.wall import Source

Verdicts = tuple[tuple[Rule[Any], Verdict], ...]


@dataclass(frozen=True)
class Refusal:
    """A combination of options that is not offered: why, and what the model finds wrong with it."""

    options: Mapping[str, str]
    says: tuple[str, ...]
    because: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Judged:
    """A recipe that could be read, and what the rules say of it; parts and cables carry no rule."""

    source: Source
    subject: Subject | JobSubject | None
    verdicts: Verdicts
    refusals: tuple[Refusal, ...] = ()
    variant: Variant | None = None
    """What a system was written as, where it extends another."""
    more: tuple[Finding, ...] = ()
    """Findings that no single rule made."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that was found, in order."""
        ruled = (f for _, verdict in self.verdicts for f in verdict.findings)
        return in_order([*ruled, *self.more])

    @property
    def waits_for(self) -> str:
        """The system that must be mended before a conversion to it is judged whole, or nothing."""
        if not isinstance(self.subject, JobSubject):
            return ""
        asked = {rule.name for rule, _ in self.verdicts}
        whole = all(rule.name in asked for rule in JOB_RULES)
        return "" if whole else self.subject.job.fitted.name
