"""A circuit that ends in one way or another by which of two devices is quicker."""

from __future__ import annotations

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.moves import predecessors, successors
from generator.circuit.tables import Table, first
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every reachable state in which a device wants to move whether its end is certain."""
    moving = subject.reachable & ~subject.motion.stable
    return verdict(count(moving), "reachable states in which a device moves",
                   (_race(subject, variable, table) for variable, table in subject.motion.races()))


def _race(subject: Subject, variable: int, race: Table) -> Finding:
    named, column = subject.circuit.variables[variable], subject.motion.space.variables[variable]
    start, stable = subject.earliest(race), subject.motion.stable
    ends = [_run(subject, start, stable & end) for end in (column, ~column)]
    device = next(d for d in subject.circuit.devices if d.variable == variable)
    load = subject.circuit.load[device.loads[0]]
    places, _, path = subject.feeding(1 << ends[0][-1], subject.reachable, load)
    return Finding(
        RULE.name, RULE.severity,
        f"`{named.name}` ends {named.words[1]} or {named.words[0]}, by which device is quicker.",
        places,
        found=f"{subject.told(subject.motion.story(start))}; then either "
              + "; or ".join(subject.told(end) for end in ends),
        expected="one end from every setting, whoever is quicker",
        hint="make one of the devices wait for the other",
        state=subject.shown(race, subject.reachable), path=path)


def _run(subject: Subject, start: int, goal: Table) -> tuple[int, ...]:
    """Return a shortest run of device moves from a state into `goal`."""
    motion, layers = subject.motion, [1 << start]
    while not layers[-1] & goal:
        layers.append(successors(motion.space, motion.moves, layers[-1]))
    run = [first(layers[-1] & goal)]
    for layer in reversed(layers[:-1]):
        run.append(first(predecessors(motion.space, motion.moves, 1 << run[-1]) & layer))
    return tuple(reversed(run))


RULE = Rule(
    "ends-by-chance",
    "Circuit ends by chance",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "two relays that lock each other out start in no certain order"),),
    judge,
)
