"""An open output of a control that is live from elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import path_places
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Contact
from generator.circuit.path import Path, find_path
from generator.circuit.tables import Table
from generator.findings import Finding, Place, Severity

CONTROLS = ("call", "temperature", "cut-out")


def judge(subject: Subject) -> Verdict:
    """Ask of every contact that a control works, in every reachable state in which it is open."""
    contacts = [c for c in subject.circuit.contacts
                if any(subject.circuit.variables[v].kind in CONTROLS for v, _ in c.when)]
    asked = sum(count(_open(subject, contact)) for contact in contacts)
    return verdict(asked, "reachable states with a control's output open",
                   (f for contact in contacts for f in _fed(subject, contact)))


def _open(subject: Subject, contact: Contact) -> Table:
    return subject.reachable & ~subject.potentials.closed(contact)


def _fed(subject: Subject, contact: Contact) -> Iterator[Finding]:
    potentials = subject.potentials
    fed = potentials.at(potentials.line, contact.b) & _open(subject, contact)
    if not fed:
        return
    path = find_path(subject.circuit, subject.earliest(fed), subject.lines(), contact.b)
    assert path is not None
    yield Finding(
        RULE.name, RULE.severity,
        f"The output `{contact.b}` is fed backwards while its contact `{contact.name}` is open.",
        _entry_first(path), found="live from elsewhere",
        expected="dead, unless its own contact makes it live",
        hint="two switched lines are joined that should be apart; follow the path",
        state=subject.shown(fed, subject.reachable), path=path.terminals)


def _entry_first(path: Path) -> tuple[Place, ...]:
    """Return the places of a path, first the cores that bring the line into the output's net."""
    last = max(i for i, step in enumerate((None, *path.steps))
               if step is None or isinstance(step.through, Contact))
    entry = Path(path.start, path.steps[last:])
    return tuple(dict.fromkeys((*path_places(entry), *path_places(path))))


RULE = Rule(
    "output-fed-backwards",
    "Output is fed backwards",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021) 5.16: stored hot water has a "
                               "time control of its own"),
        Basis(Known.PRACTICE, "an output that is off is dead; a control fed backwards controls "
                              "nothing"),
    ),
    judge,
)
