"""A circuit in which relays or valves may go on moving for ever after one touch of a switch."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.moves import successors
from generator.circuit.tables import first
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every reachable state in which a device wants to move whether it comes to rest."""
    moving = subject.reachable & ~subject.motion.stable
    return verdict(count(moving), "reachable states in which a device moves", _endless(subject))


def _endless(subject: Subject) -> Iterator[Finding]:
    endless = subject.motion.endless
    if not endless:
        return
    start = subject.earliest(endless)
    run = _round(subject, start)
    moved = run[run.index(run[-1])] ^ run[run.index(run[-1]) + 1]
    device = next(d for d in subject.circuit.devices if moved >> d.variable & 1)
    load = subject.circuit.load[device.loads[0]]
    places, _, path = subject.feeding(
        endless & subject.potentials.runs(load), endless, load)
    yield Finding(
        RULE.name, RULE.severity,
        f"`{subject.circuit.variables[device.variable].name}` never comes to rest.", places,
        found=f"{subject.told(subject.motion.story(start))}; then {subject.told(run)}, and again",
        expected="after every touch of a switch all devices come to rest",
        hint="a device must not break its own feed",
        state=subject.shown(endless, subject.reachable), path=path)


def _round(subject: Subject, start: int) -> tuple[int, ...]:
    """Return moves from `start` that may go on for ever, until one state comes up twice."""
    motion, run = subject.motion, [start]
    while run[-1] not in run[:-1]:
        run.append(first(successors(motion.space, motion.moves, 1 << run[-1]) & motion.endless))
    return tuple(run)


RULE = Rule(
    "never-settles",
    "Circuit never settles",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "a relay that breaks its own feed chatters until its contacts burn"),),
    judge,
)
