"""A link that joins the terminals a boiler is called by, so that it fires by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.checks.evidence import nearest_first, note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import CIRCULATED
from generator.circuit.elements import Conductor, HeatSource
from generator.circuit.path import Path, find_path
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every boiler that is called over terminals of its own, besides its permanent line."""
    calls = [(source, *ends) for source in subject.sources(CIRCULATED)
             for ends in _ends(subject, source)]
    return verdict(len(calls), "pairs of terminals that call a boiler",
                   (f for call in calls for f in _linked(subject, *call)))


def _ends(subject: Subject, source: HeatSource) -> Iterator[tuple[str, str]]:
    """Yield what must not be joined: permanent line and control input, or both sides of a pair."""
    loads = [subject.circuit.load[name] for name in source.loads]
    lines = [load.a for load in loads if load.kind == "electronics"]
    for load in loads:
        if load.volt_free:
            yield load.a, load.b
        elif load.kind == "call input" and lines and not _switched(subject, lines[0]):
            yield lines[0], load.a


def _switched(subject: Subject, line: str) -> bool:
    """Tell whether a boiler's line comes and goes with a call: then that is what is wrong."""
    return bool(subject.able() & ~subject.potentials.at(subject.potentials.line, line))


def _linked(subject: Subject, source: HeatSource, start: str, end: str) -> Iterator[Finding]:
    path = find_path(replace(subject.circuit, contacts=()), None, (start,), end)
    if path:
        yield Finding(
            RULE.name, RULE.severity,
            f"`{start}` and `{end}` are joined for good, so `{source.part}` calls itself.",
            _links_first(path), found="cores and links alone, no contact between them",
            expected="only the contacts of external controls between them",
            hint="take the link out and hand it to the owner", path=path.terminals)


def _links_first(path: Path) -> tuple[Place, ...]:
    """Return the places of a path, links before cores: what was put in is mostly a link."""
    links = (step.through for step in path.steps
             if isinstance(step.through, Conductor) and step.through.kind == "link")
    return tuple(dict.fromkeys((*(link.place.noted(note(link)) for link in links),
                                *nearest_first(path))))


RULE = Rule(
    "test-link-left-in",
    "Test link is left in",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "the link that fires a boiler for the works test comes out when "
                              "external controls are added"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15: off without "
                               "demand; 5.25: fit an interlock"),
    ),
    judge,
)
