"""A board that needs line all the time, fed over a contact that a call or a thermostat works."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import nearest_first
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact, Load
from generator.circuit.path import Path, find_path
from generator.circuit.tables import Table
from generator.findings import Finding, Severity

CONTROLS = ("call", "temperature", "position")
DRIVE = "M"
"""The letter of what is driven on a call, IEC 81346-2: electronics there wait for their line."""


def judge(subject: Subject) -> Verdict:
    """Ask of every board that ever runs, in every reachable state, supplies on and all healthy."""
    boards = [load for load in subject.circuit.loads if _board(subject, load)]
    able = subject.supplied() & subject.healthy() & subject.reachable
    return verdict(len(boards) * count(able), "states with the supplies on, for each board",
                   (f for load in boards for f in _switched(subject, load, able)))


def _board(subject: Subject, load: Load) -> bool:
    neutral = subject.circuit.terminal[load.b].carries == "neutral"
    return (load.kind == "electronics" and neutral and bool(subject.landed(load.a))
            and subject.wall.parts[load.part].part.letter != DRIVE
            and bool(subject.potentials.runs(load) & subject.reachable))


def _switched(subject: Subject, load: Load, able: Table) -> Iterator[Finding]:
    runs = subject.potentials.runs(load) & able
    fails = able & ~subject.potentials.at(subject.potentials.line, load.a)
    path = (find_path(subject.circuit, subject.earliest(runs), subject.lines(), load.a)
            if runs and fails else None)
    over = _over(subject, path) if path else None
    if path and over:
        yield Finding(
            RULE.name, RULE.severity,
            f"`{load.a}` takes permanent line and is fed over `{over.name}`.",
            nearest_first(path),
            found=f"without line in {count(fails)} of {count(able)} states with the supplies on",
            expected="line that only the isolator and its fuse break",
            hint=_hint(subject, load), state=subject.shown(fails, able), path=path.terminals)


def _over(subject: Subject, path: Path) -> Contact | None:
    """Return the last contact of a path that a call, a temperature or a device works."""
    contacts = (step.through for step in reversed(path.steps) if isinstance(step.through, Contact))
    return next((contact for contact in contacts if contact.part != part_at(path)
                 and any(subject.circuit.variables[v].kind in CONTROLS for v, _ in contact.when)),
                None)


def part_at(path: Path) -> str:
    """Return the part in which a path ends."""
    return path.terminals[-1].partition(":")[0]


def _hint(subject: Subject, load: Load) -> str:
    if any(source.part == load.part for source in subject.circuit.heat_sources):
        return ("take it from permanent line: without it the boiler has no frost protection of its "
                "own, and its pump no overrun")
    return "take it from permanent line: a control without power hears no call and loses its times"


RULE = Rule(
    "permanent-line-switched",
    "Permanent line is switched",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "a boiler with pump overrun needs permanent line; so do a receiver "
                              "and a programmer"),
    ),
    judge,
)
