"""A green-and-yellow core landed at both ends that no supply's protective conductor reaches."""

from __future__ import annotations

from collections.abc import Iterable

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every green-and-yellow core and link; those on one net are told together.

    Nothing is said where another rule speaks of the same cause: the core is used for something
    else than earth, or bare metal of class I hangs on it.
    """
    cores = [core for core in subject.circuit.conductors if core.colour == "GNYE"]
    lost = [core for core in cores if _without_earth(subject, core.a) and not
            (_misused(subject, core) or _metal_is_told(subject, core))]
    return verdict(len(cores), "green-and-yellow cores and links landed at both ends",
                   (_finding(subject, group) for group in _by_net(subject, lost)))


def _without_earth(subject: Subject, terminal: str) -> Table:
    """Return the reachable states in which a terminal has no earth; a contact may open it."""
    potentials = subject.potentials
    return subject.reachable & ~potentials.at(potentials.earth, terminal)


def _misused(subject: Subject, core: Conductor) -> bool:
    """Tell whether a core is never earth, and is line or neutral or meets no earth terminal."""
    potentials, reachable = subject.potentials, subject.reachable
    if potentials.at(potentials.earth, core.a) & reachable:
        return False
    used = potentials.live(core.a) | potentials.at(potentials.neutral, core.a)
    return bool(used & reachable) or not _earths(subject, core)


def _earths(subject: Subject, core: Conductor) -> tuple[str, ...]:
    """Return the terminals made for earth that a core is joined to."""
    net = subject.potentials.nets.of
    return tuple(terminal.name for terminal in subject.circuit.terminals
                 if terminal.carries == "earth" and net[terminal.name] == net[core.a])


def _metal_is_told(subject: Subject, core: Conductor) -> bool:
    parts = {subject.circuit.terminal[earth].part for earth in _earths(subject, core)}
    return any(_bare(subject, part) for part in parts
               if subject.wall.parts[part].part.protection == "class I")


def _bare(subject: Subject, part: str) -> bool:
    """Tell whether a part can be live and every earth terminal of it lacks its earth."""
    own = [terminal for terminal in subject.circuit.terminals if terminal.part == part]
    return any(each.name in subject.ever_live for each in own) and all(
        _without_earth(subject, each.name) for each in own if each.carries == "earth")


def _by_net(subject: Subject, cores: Iterable[Conductor]) -> list[list[Conductor]]:
    groups: dict[int, list[Conductor]] = {}
    for core in cores:
        groups.setdefault(subject.potentials.nets.of[core.a], []).append(core)
    return list(groups.values())


def _finding(subject: Subject, cores: list[Conductor]) -> Finding:
    ends = dict.fromkeys(end for core in cores for end in (core.a, core.b))
    return Finding(
        RULE.name, RULE.severity, _message(cores),
        tuple(core.place.noted(f"{core.kind} {core.name}") for core in cores),
        found=f"{listed(ends, 'and')} joined to no earth of a supply",
        expected="joined to the protective conductor of a supply, through no contact",
        hint="land it where the other green-and-yellow cores are; what is not used is made safe",
        state=subject.shown(_without_earth(subject, cores[0].a), subject.reachable))


def _message(cores: list[Conductor]) -> str:
    names = listed((core.name for core in cores), "and")
    if len(cores) == 1:
        return f"The green-and-yellow {cores[0].kind} {names} leads to no protective conductor."
    return f"The green-and-yellow cores and links {names} lead to no protective conductor."


RULE = Rule(
    "earth-core-leads-nowhere",
    "Green-and-yellow core leads to no protective conductor",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 412.2.3.2: also with class II the protective conductor is run "
                            "to each point and terminated there"),
        Basis(Known.PRACTICE, "who finds green-and-yellow parked takes it for an earth and lands "
                              "the next metal part on it"),
    ),
    judge,
)
