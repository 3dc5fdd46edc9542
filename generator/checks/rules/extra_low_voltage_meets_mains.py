"""Extra-low voltage that mains reaches, or could reach after one short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, groupby, pairwise

from generator.checks.evidence import nearest_first
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.circuit.path import find_path
from generator.circuit.potentials import ever_joined
from generator.findings import Finding, Severity, listed

APART = "a way, a cable and a barrier of its own for extra-low voltage"


@dataclass(frozen=True)
class _Domains:
    """Terminals that mains can reach through anything, and those joined to extra-low voltage."""

    mains: frozenset[str]
    low: frozenset[str]


def judge(subject: Subject) -> Verdict:
    """Ask of every terminal that carries extra-low voltage and every core of a signal cable."""
    low = _low(subject)
    domains = _Domains(
        ever_joined(subject.potentials, (*subject.lines(), *subject.neutrals())),
        ever_joined(subject.potentials, low))
    signals = [core for core in subject.circuit.conductors if _signal(subject, core)]
    return verdict(
        len(low) + len(signals), "extra-low-voltage terminals and cores of signal cables",
        chain(_reached(subject, domains), _neighbours(subject, domains),
              _sharing(subject, domains), _misused(signals, domains)))


def _low(subject: Subject) -> tuple[str, ...]:
    return tuple(terminal.name for terminal in subject.circuit.terminals
                 if terminal.carries == "extra-low voltage")


def _signal(subject: Subject, core: Conductor) -> bool:
    return bool(core.cable) and subject.wall.cables[core.cable].cable.signal


def _reached(subject: Subject, domains: _Domains) -> Iterator[Finding]:
    by_net = {subject.potentials.nets.of[terminal]: terminal
              for terminal in reversed(_low(subject)) if terminal in domains.mains}
    for terminal in by_net.values():
        path = find_path(subject.circuit, None, (*subject.lines(), *subject.neutrals()), terminal,
                         through_loads=True)
        assert path is not None
        yield Finding(
            RULE.name, RULE.severity, f"Mains reaches the extra-low-voltage terminal `{terminal}`.",
            nearest_first(path), found="joined over conductors, contacts or loads",
            expected="no path to mains, whatever is switched",
            hint="with mains on it the board is dead at once, or burns", path=path.terminals)


def _neighbours(subject: Subject, domains: _Domains) -> Iterator[Finding]:
    rows = groupby(subject.circuit.terminals, key=lambda terminal: (terminal.part, terminal.row))
    for a, b in chain.from_iterable(pairwise(row) for _, row in rows):
        for mains, low in ((a.name, b.name), (b.name, a.name)):
            if mains in domains.mains - domains.low and low in domains.low - domains.mains:
                yield Finding(
                    RULE.name, RULE.severity,
                    f"`{low}`, extra-low voltage, stands next to `{mains}`, mains.",
                    tuple(dict.fromkeys((*subject.landing_places(low),
                                         *subject.landing_places(mains), a.place))),
                    found="neighbours in one row; one loose strand joins them", expected=APART)


def _sharing(subject: Subject, domains: _Domains) -> Iterator[Finding]:
    cores = [core for core in subject.circuit.conductors if core.cable]
    for low in (core for core in cores if core.a in domains.low - domains.mains):
        mains = [core for core in cores
                 if core.cable == low.cable and core.a in domains.mains - domains.low]
        if mains:
            yield Finding(
                RULE.name, RULE.severity,
                f"`{low.name}`, extra-low voltage, shares a cable with "
                f"{listed((core.name for core in mains), 'and')}, mains.",
                (low.place.noted("extra-low voltage"), *(c.place.noted("mains") for c in mains)),
                found="both in one cable", expected=APART)


def _misused(signals: list[Conductor], domains: _Domains) -> Iterator[Finding]:
    for core in signals:
        if core.a in domains.mains:
            yield Finding(
                RULE.name, RULE.severity,
                f"`{core.name}` is a core of a signal cable and carries mains.", (core.place,),
                found="a data or sensor lead on mains", expected="a cable made for mains")


RULE = Rule(
    "extra-low-voltage-meets-mains",
    "Extra-low voltage meets mains",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document P (2013) Appendix A: extra-low voltage is at "
                               "most 50 V a.c."),
        Basis(Known.MEMORY, "BS 7671 414 and 528.1: kept apart from mains"),
        Basis(Known.PRACTICE, "230 V on data or volt-free terminals destroys the board"),
    ),
    judge,
)
