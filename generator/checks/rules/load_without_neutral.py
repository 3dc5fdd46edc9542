"""A load whose line end can be live while its other end never reaches a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Load, part_of
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every load that has an end joined to line in some reachable state.

    Not of what a drive holds between two of its own lines: the motor behind it has the neutral.
    Nor of a volt-free input, which has none.
    """
    apart = (*subject.inner_feeds(), *subject.pairs())
    fed = [load for load in subject.circuit.loads if load not in apart
           and (_at_line(subject, load.a) or _at_line(subject, load.b))]
    return verdict(len(fed), "loads with an end that can be live",
                   (_finding(subject, lost) for lost in _stranded(subject, fed)))


def _at_line(subject: Subject, terminal: str) -> Table:
    potentials = subject.potentials
    return potentials.at(potentials.line, terminal) & subject.reachable


def _stranded(subject: Subject, fed: list[Load]) -> Iterator[list[tuple[Load, str]]]:
    """Yield loads with the ends that lack a neutral, those together that hang on one net."""
    by_net: dict[int, list[tuple[Load, str]]] = {}
    for load in fed:
        for end in _dead_ends(subject, load)[:1]:
            by_net.setdefault(subject.potentials.nets.of[end], []).append((load, end))
    yield from by_net.values()


def _dead_ends(subject: Subject, load: Load) -> list[str]:
    """Return the ends of a load that never reach neutral while the other can be live."""
    neutral = subject.potentials.neutral
    return [end for fed, end in ((load.a, load.b), (load.b, load.a))
            if _at_line(subject, fed)
            and not subject.potentials.at(neutral, end) & subject.reachable]


def _finding(subject: Subject, lost: list[tuple[Load, str]]) -> Finding:
    loads, ends = [load for load, _ in lost], tuple(dict.fromkeys(end for _, end in lost))
    live = _at_line(subject, loads[0].a) | _at_line(subject, loads[0].b)
    places, state, path = subject.feeding(live, subject.reachable, loads[0])
    one = len(loads) == 1
    return Finding(
        RULE.name, RULE.severity,
        f"The {'load' if one else 'loads'} {listed((load.name for load in loads), 'and')} "
        f"{'has' if one else 'have'} no neutral at {listed(ends, 'and')}.",
        tuple(dict.fromkeys((
            *subject.made_safe(_near(subject, ends[0]), "BU"),
            *(place for end in ends for place in subject.landing_places(end)), *places,
            *(load.place.noted(note(load)) for load in loads)))),
        found="; ".join(_found(subject, end) for end in ends),
        expected="a neutral of the supply that feeds its line",
        hint="land the neutral core", state=state, path=path)


def _near(subject: Subject, end: str) -> frozenset[str]:
    """Return the parts on the net of a load's end."""
    net = subject.potentials.nets.of
    return frozenset(part_of(t) for t, number in net.items() if number == net[end])


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
