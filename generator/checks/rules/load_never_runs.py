"""A load that is wired at both ends and has full voltage in no state that can come about."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Circuit, Conductor, Load
from generator.circuit.reach import nets
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every mains load with a core or link at both ends, over all reachable states."""
    loads = [load for load in subject.circuit.loads
             if _wired(subject, load.a) and _wired(subject, load.b) and not _unsure(subject, load)]
    return verdict(len(loads), "mains loads wired at both ends",
                   (f for load in loads for f in _never_runs(subject, load)))


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


def _never_runs(subject: Subject, load: Load) -> Iterator[Finding]:
    if subject.potentials.runs(load) & subject.reachable:
        return
    cores = _wired(subject, load.a) + _wired(subject, load.b)
    yield Finding(
        RULE.name, RULE.severity, f"`{load.name}` is wired at both ends and never runs.",
        (*(core.place.noted(note(core)) for core in dict.fromkeys(cores)),
         load.place.noted(note(load))),
        found=" and ".join(f"`{end}` is only ever {subject.stands(end, subject.reachable)}"
                           for end in (load.a, load.b)),
        expected="line at one end and neutral at the other in some setting of the switches",
        hint=_hint(subject, load))


def _hint(subject: Subject, load: Load) -> str:
    """Return what to look for: which of line and neutral never comes."""
    potentials = subject.potentials
    came = [any(potentials.at(tables, end) & subject.reachable for end in (load.a, load.b))
            for tables in (potentials.line, potentials.neutral)]
    if all(came):
        return "line and neutral never come together; see which of the ends is on the wrong way"
    lost = [word for word, there in zip(("line", "neutral"), came, strict=True) if not there]
    return f"find where its {' and its '.join(lost)} should come from, and land it there"


RULE = Rule(
    "load-never-runs",
    "Load never runs",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "what is wired is wired for something"),),
    judge,
)
