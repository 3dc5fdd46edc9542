"""A terminal with more conductors in it than it holds."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Terminal
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every terminal on which anything lands."""
    used = [terminal for terminal in subject.circuit.terminals if _landed(subject, terminal)]
    return verdict(len(used), "terminals with conductors in them",
                   (f for terminal in used for f in _overfilled(subject, terminal)))


def _landed(subject: Subject, terminal: Terminal) -> int:
    """Return how many conductors land; where a supply arrives, its own is one of them."""
    arriving = sum(terminal.name in (s.line, s.neutral, s.earth) for s in subject.circuit.supplies)
    ends = sum((c.a == terminal.name) + (c.b == terminal.name)
               for c in subject.landed(terminal.name))
    return arriving + ends


def _overfilled(subject: Subject, terminal: Terminal) -> Iterator[Finding]:
    landed = _landed(subject, terminal)
    if landed > terminal.takes:
        yield Finding(
            RULE.name, RULE.severity,
            f"The terminal `{terminal.name}` holds {landed} conductors and takes {terminal.takes}.",
            (*reversed(subject.landing_places(terminal.name)), terminal.place.noted("the part")),
            found=f"{landed} conductors", expected=f"at most {terminal.takes}",
            hint="use a free way and a link to it")


RULE = Rule(
    "terminal-overfilled",
    "Terminal holds more conductors than it takes",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "a conductor too many is the one that works loose"),),
    judge,
)
