"""A terminal that is live through a load: nothing runs, and it still hurts."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import nearest_first
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Load
from generator.circuit.path import Path, find_path
from generator.circuit.potentials import Standing
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed

Case = tuple[Table, Path, int]
"""Where a net is live through loads, the path to it, and how many terminals are live so."""


def judge(subject: Subject) -> Verdict:
    """Ask of every terminal, in every reachable state with the supplies on."""
    cases = tuple(_cases(subject))
    # What is live through two loads is so because something is live through the first.
    direct = [case for case in cases if len(_loads(case[1])) == 1]
    return verdict(count(_supplied(subject)), "reachable states with the supplies on",
                   (_finding(subject, case) for case in _nearest(direct or list(cases))))


def _supplied(subject: Subject) -> Table:
    return subject.reachable & subject.supplied()


def _cases(subject: Subject) -> Iterator[Case]:
    for terminals in subject.potentials.nets.terminals():
        standings = subject.potentials.standings(terminals[0])
        soft = standings[Standing.SOFT_LINE] & _supplied(subject)
        if soft:
            path = find_path(subject.circuit, subject.earliest(soft), subject.lines(),
                             terminals[0], through_loads=True)
            assert path is not None
            yield soft, path, len(terminals)


def _loads(path: Path) -> tuple[str, ...]:
    return tuple(step.through.name for step in path.steps if isinstance(step.through, Load))


def _nearest(cases: list[Case]) -> Iterator[Case]:
    """Yield for each load the nearest net behind it: what lies behind contacts only follows."""
    by_loads: dict[tuple[str, ...], list[Case]] = {}
    for case in cases:
        by_loads.setdefault(_loads(case[1]), []).append(case)
    for group in by_loads.values():
        table, path, _ = min(group, key=lambda case: len(case[1].steps))
        yield table, path, sum(terminals for _, _, terminals in group)


def _finding(subject: Subject, case: Case) -> Finding:
    soft, path, terminals = case
    return Finding(
        RULE.name, RULE.severity,
        f"`{path.terminals[-1]}` is live through {listed(_loads(path), 'and')} though nothing "
        "runs.",
        nearest_first(path),
        found=f"230 V on {terminals} {'terminal' if terminals == 1 else 'terminals'} "
              "with no neutral behind",
        expected="the neutral of every load made whenever its line is",
        state=subject.shown(soft, subject.reachable), path=path.terminals)


RULE = Rule(
    "live-through-load",
    "Terminal is live through a load",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "behind a load that has lost its neutral stands full voltage"),),
    judge,
)
