"""A cable that is kept and has to be longer than it is."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject
from generator.findings import Finding, Severity


def judge(subject: JobSubject) -> Verdict:
    """Ask of every cable that is found and kept."""
    found, fitted = subject.job.found.cables, subject.job.fitted.cables
    kept = [name for name in found if name in fitted]
    return verdict(len(kept), "cables that are found and kept",
                   (f for name in kept for f in _short(subject, name)))


def _short(subject: JobSubject, name: str) -> Iterator[Finding]:
    before, after = (wall.cables[name].laid.length
                     for wall in (subject.job.found, subject.job.fitted))
    if after > before:
        yield Finding(
            RULE.name, RULE.severity, f"`{name}` is kept and too short by {after - before:g} m.",
            (subject.job.fitted.source.place("cables", name, "length").noted("fitted"),
             subject.job.found.source.place("cables", name, "length").noted("found")),
            found=f"{before:g} m found, {after:g} m fitted", expected=f"at most {before:g} m",
            hint="lay a new cable under a designation of its own; a joint in a cable is a box more "
                 "that nobody finds again")


RULE = Rule(
    "kept-cable-too-short",
    "Kept cable is too short",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "a cable that is taken over reaches its new end without a joint"),
        Basis(Known.MEMORY, "BS 7671 526.3: a joint stays accessible"),
    ),
    judge,
)
