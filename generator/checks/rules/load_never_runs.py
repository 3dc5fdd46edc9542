"""A load that is wired at both ends and has full voltage in no state that can come about."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor, Load
from generator.circuit.flat import Circuit
from generator.circuit.reach import nets
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every mains load with a core or link at both ends, over all reachable states."""
    inner = subject.inner_feeds()
    loads = [load for load in subject.circuit.loads
             if not load.volt_free and load not in inner
             and _wired(subject, load.a) and _wired(subject, load.b)
             and not _unsure(subject, load)]
    return verdict(len(loads), "mains loads wired at both ends",
                   (_finding(subject, group) for group in _never_running(subject, loads)))


def _wired(subject: Subject, end: str) -> tuple[Conductor, ...]:
    """Return the cores and links that lead to an end of a load, contacts of its part passed."""
    return tuple(core for way in _ways_in(subject.circuit, end) for core in subject.landed(way))


def _ways_in(circuit: Circuit, end: str) -> Iterator[str]:
    if circuit.terminal[end].carries == "extra-low voltage":
        return
    own = [t.name for t in circuit.terminals if t.part == circuit.terminal[end].part]
    pairs = [(contact.a, contact.b) for contact in circuit.contacts]
    pairs += [(joint.a, joint.b) for joint in circuit.conductors if joint.kind == "joint"]
    joined = nets(own, (pair for pair in pairs if set(pair) <= set(own))).of
    yield from (terminal for terminal in own if joined[terminal] == joined[end])


def _unsure(subject: Subject, load: Load) -> bool:
    """Return whether a closed part decides what an end of the load is."""
    ends = subject.potentials.not_known(load.a) | subject.potentials.not_known(load.b)
    return bool(ends & subject.supplied() & subject.reachable)


def _never_running(subject: Subject, loads: list[Load]) -> Iterator[list[Load]]:
    """Yield the loads that never run, those together that lack the same net's line or neutral."""
    groups: dict[str | int, list[Load]] = {}
    for load in loads:
        if not subject.potentials.runs(load) & subject.reachable:
            groups.setdefault(_lacking(subject, load), []).append(load)
    yield from groups.values()


def _lacking(subject: Subject, load: Load) -> str | int:
    """Return the net that nothing comes to, where it is one end's and the other end is well."""
    lost, net = _lost(subject, load), subject.potentials.nets.of
    dead = [end for end in (load.a, load.b) if not _came(subject, end)]
    return net[dead[0]] if len(lost) == 1 and len(dead) == 1 else load.name


def _came(subject: Subject, end: str) -> list[str]:
    """Return which of line and neutral an end of a load is joined to in some reachable state."""
    potentials = subject.potentials
    return [word for word, tables in (("line", potentials.line), ("neutral", potentials.neutral))
            if potentials.at(tables, end) & subject.reachable]


def _lost(subject: Subject, load: Load) -> list[str]:
    came = (*_came(subject, load.a), *_came(subject, load.b))
    return [word for word in ("line", "neutral") if word not in came]


def _finding(subject: Subject, loads: list[Load]) -> Finding:
    cores = (core for load in loads for end in _worst_first(subject, load)
             for core in _wired(subject, end))
    one = len(loads) == 1
    return Finding(
        RULE.name, RULE.severity,
        f"{listed((load.name for load in loads), 'and')} {'is' if one else 'are'} wired at both "
        f"ends and never {'runs' if one else 'run'}.",
        (*(core.place.noted(note(core)) for core in dict.fromkeys(cores)),
         *(load.place.noted(note(load)) for load in loads)),
        found="; ".join(f"`{end}` is only ever {subject.stands(end, subject.reachable)}"
                        for load in loads for end in (load.a, load.b)),
        expected="line at one end and neutral at the other in some setting of the switches",
        hint=_hint(_lost(subject, loads[0])))


def _worst_first(subject: Subject, load: Load) -> list[str]:
    return sorted((load.a, load.b), key=lambda end: len(_came(subject, end)))


def _hint(lost: list[str]) -> str:
    if not lost:
        return "line and neutral never come together; see which of the ends is on the wrong way"
    return f"find where {' and '.join(lost)} should come from, and land it there"


RULE = Rule(
    "load-never-runs",
    "Load never runs",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "what is wired is wired for something"),),
    judge,
)
