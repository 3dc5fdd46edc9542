"""A load whose line end can be live while its other end never reaches a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Load
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every load that has an end joined to line in some reachable state."""
    fed = [load for load in subject.circuit.loads
           if _at_line(subject, load.a) or _at_line(subject, load.b)]
    return verdict(len(fed), "loads with an end that can be live",
                   (f for load in fed for f in _stranded(subject, load)))


def _at_line(subject: Subject, terminal: str) -> Table:
    potentials = subject.potentials
    return potentials.at(potentials.line, terminal) & subject.reachable


def _stranded(subject: Subject, load: Load) -> Iterator[Finding]:
    potentials = subject.potentials
    ends = {other: _at_line(subject, end) for end, other in ((load.a, load.b), (load.b, load.a))
            if _at_line(subject, end)
            and not potentials.at(potentials.neutral, other) & subject.reachable}
    for other in list(ends)[:1]:
        places, state, path = subject.feeding(ends[other], subject.reachable, load)
        yield Finding(
            RULE.name, RULE.severity,
            f"The load `{load.name}` has no neutral at {listed(ends, 'nor at')}.",
            tuple(dict.fromkeys((*subject.landing_places(other), *places, load.place))),
            found=_found(subject, other), expected="a neutral of the supply that feeds its line",
            hint="until then this terminal may show 230 V and hurt", state=state, path=path)


def _found(subject: Subject, terminal: str) -> str:
    potentials = subject.potentials
    if potentials.at(potentials.earth, terminal) & subject.reachable:
        return f"`{terminal}` joined to earth"
    if _at_line(subject, terminal):
        return f"`{terminal}` joined to a line"
    return f"`{terminal}` " + ("joined to no supply" if subject.landed(terminal)
                               else "with nothing landed on it")


RULE = Rule(
    "load-without-neutral",
    "Load has no neutral",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "a motor without its neutral stands still, its blue core at 230 V"),),
    judge,
)
