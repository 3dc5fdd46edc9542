"""An open output of a control that is live from elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import path_places
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import SHUT
from generator.circuit.elements import Contact, Load, Zone
from generator.circuit.path import Path, find_path
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Place, Severity

CONTROLS = ("call", "temperature", "cut-out")
CALLS = ("call", "temperature")


def judge(subject: Subject) -> Verdict:
    """Ask of every contact that a control works, in every settled state in which it is open.

    Not in travelling states: a mid-position valve that runs back from heating to hot water joins
    orange to white for some seconds, and white is fed backwards as it is designed to be.
    """
    contacts = [contact for contact in subject.circuit.contacts
                if _worked_by(subject, contact, CONTROLS)]
    asked = sum(count(_open(subject, contact)) for contact in contacts)
    return verdict(asked, "settled states with a control's output open",
                   (f for contact in contacts for f in _fed(subject, contact)))


def _worked_by(subject: Subject, contact: Contact, kinds: tuple[str, ...]) -> bool:
    return any(subject.circuit.variables[v].kind in kinds for v, _ in contact.when)


def _open(subject: Subject, contact: Contact) -> Table:
    return subject.settled & ~subject.potentials.closed(contact)


def _fed(subject: Subject, contact: Contact) -> Iterator[Finding]:
    potentials = subject.potentials
    left = potentials.at(potentials.line, contact.b) & _open(subject, contact)
    while left:
        path = find_path(subject.circuit, subject.earliest(left), subject.lines(), contact.b)
        assert path is not None
        if not _meant(subject, contact, path):
            yield _finding(subject, contact, path, left)
            return
        left &= ~_conducts(subject, path)


def _conducts(subject: Subject, path: Path) -> Table:
    """Return where every contact of a path is closed."""
    contacts = (step.through for step in path.steps if isinstance(step.through, Contact))
    return ~table_or(~subject.potentials.closed(contact) for contact in contacts)


def _meant(subject: Subject, contact: Contact, path: Path) -> bool:
    """Tell whether two outputs are joined on purpose: parallel contacts that feed one line.

    The other is a call for the same valve and store, or an end switch that feeds no valve's motor;
    each has a line of its own; and what is fed backwards behind the joint runs nothing.
    """
    last = _last_forward(path)
    if last is None or not _worked_by(subject, contact, CALLS) or not _has_line(subject, contact):
        return False
    feeder = path.steps[last].through
    assert isinstance(feeder, Contact)
    behind = path.steps[last + 1:]
    back = [step.terminal for i, step in enumerate(behind)
            if any(isinstance(each.through, Contact) for each in behind[:i + 1])]
    if _runs_any(subject, back):
        return False
    if _worked_by(subject, feeder, ("position",)):
        fed = [feeder.b, *(step.terminal for step in behind)]
        return not any(subject.on(load, fed) for load in _movers(subject, feeder.part))
    return any(one.shares(other) and one.stores == other.stores
               for one in _serves(subject, contact) for other in _serves(subject, feeder))


def _last_forward(path: Path) -> int | None:
    """Return the last step that passes a contact in its own direction, in to out."""
    return next((i for i in reversed(range(len(path.steps)))
                 if isinstance(through := path.steps[i].through, Contact)
                 and through.b == path.steps[i].terminal), None)


def _has_line(subject: Subject, contact: Contact) -> bool:
    """Tell whether a contact has a line to pass on while it is open."""
    potentials = subject.potentials
    return bool(potentials.at(potentials.line, contact.a) & _open(subject, contact))


def _runs_any(subject: Subject, terminals: list[str]) -> bool:
    return any(subject.on(load, terminals) for load in subject.circuit.loads)


def _movers(subject: Subject, part: str) -> list[Load]:
    """Return the loads that move a valve, or a device of this part: fed over it, they latch."""
    variables = subject.circuit.variables
    return [subject.circuit.load[name] for device in subject.circuit.devices
            if SHUT in variables[device.variable].words or variables[device.variable].part == part
            for name in device.loads]


def _serves(subject: Subject, contact: Contact) -> list[Zone]:
    """Return the zones in whose call a contact has a part."""
    worked = {v for v, _ in contact.when}
    return [zone for zone in subject.circuit.zones if worked & {v for v, _ in zone.call}]


def _finding(subject: Subject, contact: Contact, path: Path, fed: Table) -> Finding:
    return Finding(
        RULE.name, RULE.severity,
        f"The output `{contact.b}` is fed backwards while its contact `{contact.name}` is open.",
        _entry_first(path), found="live from elsewhere",
        expected="dead, unless its own contact makes it live",
        hint="two switched lines are joined that should be apart; follow the path",
        state=subject.shown(fed, subject.settled), path=path.terminals)


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
        Basis(Known.PRACTICE, "a mid-position valve's orange and the cylinder thermostat's call "
                              "share a terminal; its grey has two feeds"),
    ),
    judge,
)
