"""A conversion that does not say what is tried on every job: no call, tripped, isolated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import Condition, Supply, Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Severity


@dataclass(frozen=True)
class _Wanted:
    """What must be tried, settings that bring it about, and the states in which it is so."""

    what: str
    settings: Condition
    states: Table


def judge(subject: JobSubject) -> Verdict:
    """Ask for a safety case without a call, and for one of each cut-out and each supply used."""
    wanted = tuple(_wanted(subject.fitted))
    return verdict(len(wanted), "safety cases that this conversion needs",
                   (_missing(subject, each) for each in wanted if not _tried(subject, each)))


def _wanted(fitted: Subject) -> Iterator[_Wanted]:
    potentials, zones = fitted.potentials, fitted.circuit.zones
    if zones:
        yield _Wanted("nothing calls", _no_call(fitted), potentials.space.no(fitted.calling()))
    for zone in zones:
        if zone.cut_out:
            tripped = _tripped(zone, zones)
            yield _Wanted(f"the cut-out of `{zone.name}` has tripped and the zones call",
                          tripped, potentials.condition(tripped))
    for supply in fitted.circuit.supplies:
        if _used(fitted, supply):
            off = table_or(potentials.condition((each,)) for each in supply.isolated)
            yield _Wanted(f"`{supply.name}` is isolated", supply.isolated[:1], off)


def _no_call(fitted: Subject) -> Condition:
    calls = {v for zone in fitted.circuit.zones for v, _ in zone.call
             if fitted.circuit.variables[v].kind == "call"}
    return tuple((v, False) for v in sorted(calls))


def _tripped(zone: Zone, zones: tuple[Zone, ...]) -> Condition:
    """Return a zone's cut-out tripped while it calls, and one more zone where there is one."""
    others = [each.call for each in zones if not each.shares(zone)]
    return tuple(dict((*zone.call, *(others[0] if others else ()), *zone.cut_out)).items())


def _used(fitted: Subject, supply: Supply) -> bool:
    """Return whether any load can run on a supply."""
    potentials, line = fitted.potentials, fitted.potentials.line_of[supply.name]
    return any(potentials.runs(load) & fitted.reachable & potentials.at(line, end)
               for load in fitted.circuit.loads for end in (load.a, load.b))


def _tried(subject: JobSubject, wanted: _Wanted) -> bool:
    cases = (case for case in subject.job.conversion.expect if case.safety and case.tried)
    covered = (subject.covered(case) for case in cases)
    return any(states and not states & ~wanted.states for states in covered)


def _missing(subject: JobSubject, wanted: _Wanted) -> Finding:
    settings = ", ".join(f"{name}: {word}" for name, word
                         in subject.fitted.circuit.words(wanted.settings))
    return Finding(
        RULE.name, RULE.severity, f"No safety case tries that {wanted.what}.",
        (subject.job.source.key_place("expect").noted("the cases"),),
        found=f"no case with `safety: true` in which {wanted.what}",
        expected=f"a case with `when: {{{settings}}}` and `safety: true`",
        hint="say under `then:` what each valve and the boiler do")


RULE = Rule(
    "safety-case-missing",
    "Safety case is missing",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "on every job: all off and nothing fires; cut-out tripped with "
                              "heating calling too; isolated and everything dead"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.15, 8.2 and 8.3: off "
                               "without demand; a plan says what is tested and how"),
    ),
    judge,
)
