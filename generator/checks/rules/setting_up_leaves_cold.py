"""Setting up that, broken off after some step, leaves a zone that nobody can call for."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject
from generator.findings import Finding, Severity, listed


def judge(subject: JobSubject) -> Verdict:
    """Ask after each step of setting up about each zone; and of parts that have to be set up."""
    steps = subject.job.conversion.set_up
    zones = tuple(subject.fitted.wall.system.zones)
    joined = _joined(subject)
    found = _unsaid(subject, joined) if joined and not steps else _cold(subject, zones)
    return verdict(len(steps) * len(zones) + len(joined),
                   "zones after a step of setting up, and fitted parts that are set up", found)


def _joined(subject: JobSubject) -> tuple[str, ...]:
    """Return the parts that come new and have to be joined or set up."""
    return tuple(name for name, part in subject.job.fitted.parts.items()
                 if part.part.joining and name not in subject.job.found.parts)


def _unsaid(subject: JobSubject, joined: tuple[str, ...]) -> Iterator[Finding]:
    parts = subject.job.fitted.parts
    yield Finding(
        RULE.name, RULE.severity, f"{listed(joined, 'and')} has to be set up, and no step says so.",
        (subject.job.source.place("fitted"),
         *(parts[name].place.noted("comes new") for name in joined)),
        found="no `set-up:`",
        expected="`set-up:` the steps in order, and after each how every zone can be used")


def _cold(subject: JobSubject, zones: tuple[str, ...]) -> Iterator[Finding]:
    for i, step in enumerate(subject.job.conversion.set_up):
        missing = [zone for zone in zones if zone not in step.works]
        if missing:
            yield Finding(
                RULE.name, RULE.severity,
                f"After step {i + 1} of setting up nothing says how {listed(missing, 'and')} "
                "can be used.",
                (subject.job.source.place("set-up", i),),
                found=f"`works:` {listed(step.works, 'and') or 'nothing'}",
                expected="`works:` every zone, and how it is called if the work is broken off here",
                hint="put the step that makes it usable first, or say by which button it is called")


RULE = Rule(
    "setting-up-leaves-cold",
    "Setting up, broken off, leaves a zone nobody can call for",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "the heating can be used whenever the engineer is called away"),),
    judge,
)
