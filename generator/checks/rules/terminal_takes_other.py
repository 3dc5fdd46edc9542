"""A terminal that takes a line, a neutral or an earth, and is joined to another of the three."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

from generator.checks.evidence import nearest_first
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Terminal
from generator.circuit.path import Path, Step, find_path
from generator.circuit.potentials import Standing
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed

SAID = {Standing.LINE: "line", Standing.NEUTRAL: "neutral", Standing.EARTH: "earth"}


@dataclass(frozen=True)
class _Case:
    """A terminal, what it wrongly meets, where, and the way from the supply to it."""

    terminal: Terminal
    met: Standing
    table: Table
    path: Path


def judge(subject: Subject) -> Verdict:
    """Ask of every terminal made for line, neutral or earth on which anything lands."""
    made = [t for t in subject.circuit.terminals
            if t.carries in SAID.values() and subject.landed(t.name)]
    cases = [case for terminal in made for case in _cases(subject, terminal)]
    return verdict(len(made), "terminals made for line, neutral or earth",
                   (_finding(subject, group) for group in _groups(subject, cases)))


def _cases(subject: Subject, terminal: Terminal) -> Iterator[_Case]:
    standings = subject.potentials.standings(terminal.name)
    starts = {Standing.LINE: subject.lines(), Standing.NEUTRAL: subject.neutrals(),
              Standing.EARTH: subject.earths()}
    for met, word in SAID.items():
        table = standings[met] & subject.reachable
        if word != terminal.carries and table:
            path = find_path(
                subject.circuit, subject.earliest(table), starts[met], terminal.name)
            assert path is not None
            yield _Case(terminal, met, table, path)


def _groups(subject: Subject, cases: list[_Case]) -> Iterator[list[_Case]]:
    """Yield the cases by net; what lies behind a terminal that is wrong already only follows."""
    net = subject.potentials.nets.of
    wrong = {(case.terminal.name, case.met) for case in cases}
    groups: dict[tuple[int, Standing, str], list[_Case]] = {}
    for case in cases:
        here = net[case.terminal.name]
        before = (t for t in case.path.terminals if net[t] != here)
        if not any((t, case.met) in wrong for t in before):
            groups.setdefault((here, case.met, case.terminal.carries), []).append(case)
    yield from groups.values()


def _finding(subject: Subject, group: list[_Case]) -> Finding:
    case, names = group[0], [case.terminal.name for case in group]
    takes, met = case.terminal.carries, SAID[case.met]
    shared = Path(case.path.start, _shared([each.path.steps for each in group]))
    return Finding(
        RULE.name, RULE.severity,
        f"{listed(names, 'and')} {'takes' if len(names) == 1 else 'take'} {takes} and "
        f"{'meets' if len(names) == 1 else 'meet'} {met}.",
        tuple(dict.fromkeys((*nearest_first(shared), *nearest_first(case.path),
                             case.terminal.place.noted("the part")))),
        found=f"joined to {met}", expected=f"{takes}, as the part says of its terminal",
        hint=f"take the core to a way that carries {takes}, or to the terminal it was meant for",
        state=subject.shown(case.table, subject.reachable), path=case.path.terminals)


def _shared(ways: list[tuple[Step, ...]]) -> tuple[Step, ...]:
    """Return the steps that all ways begin with: the last of them brings it to all terminals."""
    together = takewhile(lambda steps: len(set(steps)) == 1, zip(*ways, strict=False))
    return tuple(steps[0] for steps in together)


RULE = Rule(
    "terminal-takes-other",
    "Terminal takes something else than it meets",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "polarity is looked at dead, terminal by terminal, before the supply "
                              "comes back"),
    ),
    judge,
)
