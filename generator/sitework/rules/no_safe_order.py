"""A step of the work that makes something live unknown, in whichever order it is done."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject
from generator.findings import Finding, Place, Severity, listed
from generator.sitework.handling import Handling
from generator.sitework.order import Stage
from generator.sitework.work import Work, work


def judge(job: JobSubject) -> Verdict:
    """Ask of every end that comes off or goes on, with what would be live if a supply came back."""
    done = work(job)
    return verdict(len(done.order.stages), "stages of the work",
                   (_finding(done, stage) for stage in done.order.unknown))


def _finding(done: Work, stage: Stage) -> Finding:
    handling = stage.handling
    verb = "goes on" if handling.on else "comes off"
    feeding = [name for name, live in stage.after.items() if live & stage.unknown]
    return Finding(
        RULE.name, RULE.severity,
        f"There is no safe order: when `{handling.run.name}` {verb} "
        f"{listed(handling.terminals, 'and')}, more is live than was known.",
        tuple(_places(done, handling)),
        found=f"{listed((_said(done, point) for point in sorted(stage.unknown)), 'and')}, "
              f"if {listed(feeding, 'or')} came back",
        expected="nothing within reach that could be live and was not before",
        hint="lead the line that feeds it over a box that is opened, where it can be taken off "
             "first and landed last")


def _said(done: Work, point: str) -> str:
    """Return a terminal, or a loose end by its core and where it was or will be."""
    for run in done.place.runs:
        for end in run.ends:
            if end.name == point:
                return f"loose end of {run.name} at {end.before or end.after}"
    return point


def _places(done: Work, handling: Handling) -> Iterator[Place]:
    sides = (done.job.fitted, done.job.found)
    for side, note in zip(sides if handling.on else reversed(sides),
                          ("fitted", "found") if handling.on else ("found", "fitted"),
                          strict=True):
        yield from (c.place.noted(note) for c in side.circuit.conductors
                    if c.name == handling.run.name)


RULE = Rule(
    "no-safe-order",
    "Work has no safe order",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Electricity at Work Regulations 1989, regulation 13: precautions "
                               "that equipment made dead does not become charged during the work"),
        Basis(Known.PRACTICE, "the feed comes off first and goes on last, so that a supply that "
                              "comes back by mistake finds nothing half-made"),
    ),
    judge,
)
