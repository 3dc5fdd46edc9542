"""A green-and-yellow core used for anything but the protective conductor."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every green-and-yellow core and link, whatever its sleeve."""
    cores = [core for core in subject.circuit.conductors if core.colour == "GNYE"]
    return verdict(len(cores), "green-and-yellow cores and links",
                   (f for core in cores for f in _misused(subject, core)))


def _misused(subject: Subject, core: Conductor) -> Iterator[Finding]:
    potentials, reachable = subject.potentials, subject.reachable
    use = _use(subject, core)
    if potentials.at(potentials.earth, core.a) & reachable or not use:
        return
    table = potentials.at(potentials.line, core.a) & reachable
    _, state, path = subject.evidence(table or reachable, reachable, subject.lines(), core.a)
    yield Finding(
        RULE.name, RULE.severity, f"The green-and-yellow {core.kind} `{core.name}` {use}.",
        (core.place,),
        found=f"`GNYE` sleeved `{core.sleeve}`" if core.sleeve else "`GNYE`",
        expected="the protective conductor and nothing else; no sleeve mends it",
        hint="use another core; where there is none, another cable",
        state=state if table else (), path=path if table else ())


def _use(subject: Subject, core: Conductor) -> str:
    """Return what the core does wrong; nothing for an earth that only lacks its way to a supply."""
    potentials, reachable = subject.potentials, subject.reachable
    if potentials.live(core.a) & reachable:
        return "carries a line"
    if potentials.at(potentials.neutral, core.a) & reachable:
        return "carries a neutral"
    joined = (terminal for terminal in subject.circuit.terminals
              if potentials.nets.of[terminal.name] == potentials.nets.of[core.a])
    earthing = any(terminal.carries == "earth" for terminal in joined)
    return "" if earthing else "is not the protective conductor"


RULE = Rule(
    "earth-core-carries-line",
    "Green-and-yellow core carries something else than earth",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "IEC 60445, to which IEC 60757:2021 5.1 points: green-and-yellow is "
                               "for protection alone"),
        Basis(Known.MEMORY, "BS 7671 514.4.2; that a sleeve does not help is the strict reading"),
    ),
    judge,
)
