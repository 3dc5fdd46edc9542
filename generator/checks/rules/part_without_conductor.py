"""A part on the wall on which nothing lands, and no notice on it says so."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.findings import Finding, Severity
from generator.recipe.wall import Mounted


def judge(subject: Subject) -> Verdict:
    """Ask of every part on the wall."""
    joined = {part for core in subject.circuit.conductors if core.kind != "joint"
              for part in core.parts}
    joined |= {supply.part for supply in subject.circuit.supplies}
    parts = subject.wall.parts
    return verdict(len(parts), "parts on the wall",
                   (f for name, part in parts.items() if name not in joined
                    for f in _unsaid(subject, part)))


def _unsaid(subject: Subject, part: Mounted) -> Iterator[Finding]:
    name = part.designation
    if not any(notice.at == name for notice in subject.wall.system.notices):
        yield Finding(
            RULE.name, RULE.severity, f"Nothing lands on `{name}`, and no notice says so.",
            (part.place.noted("the part"),), found="no core, no link and no supply on it",
            expected=f"its cores; or a notice `at: {name}` that says it is without supply",
            hint="what is left on the wall without a supply is taken for what it looks like")


RULE = Rule(
    "part-without-conductor",
    "Part without a conductor",
    Severity.WARNING,
    (Basis(Known.PRACTICE, "a part that stays without supply is labelled, or taken off the wall"),),
    judge,
)
