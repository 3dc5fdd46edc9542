"""A terminal that can still be live from a supply that has been isolated."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Supply
from generator.circuit.path import find_path
from generator.circuit.potentials import could_be_live
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every supply, in every reachable state with all it is isolated by made."""
    supplies = subject.circuit.supplies
    asked = sum(count(_isolated(subject, (supply,))) for supply in supplies)
    return verdict(asked, "reachable states with a supply isolated",
                   (f for supply in supplies for f in _still_live(subject, supply)))


def _isolated(subject: Subject, supplies: tuple[Supply, ...]) -> Table:
    table = subject.reachable
    for supply in supplies:
        table &= subject.potentials.condition(supply.isolated)
    return table


def _still_live(subject: Subject, supply: Supply) -> Iterator[Finding]:
    live = _terminals(subject, supply)
    if not live:
        return
    terminal, table = min(live.items(), key=lambda each: _steps(subject, supply, *each))
    everything = table & _isolated(subject, subject.circuit.supplies)
    places, state, path = subject.evidence(
        everything or table, subject.reachable, (supply.line,), terminal, through_loads=True)
    yield Finding(
        RULE.name, RULE.severity,
        f"`{terminal}` {_how(subject, supply, terminal, table)} `{supply.name}`, isolated by "
        f"{_words(subject, supply)}.",
        places, found=_found(len(live), bool(everything)),
        expected=f"only `{supply.part}` itself live once it is isolated",
        hint="the first core or link of the path goes past the isolator", state=state, path=path)


def _terminals(subject: Subject, supply: Supply) -> dict[str, Table]:
    """Return where terminals outside the isolating part can be live from a supply isolated."""
    potentials = subject.potentials
    tables, isolated = could_be_live(potentials, supply.name), _isolated(subject, (supply,))
    return {terminal.name: table for terminal in subject.circuit.terminals
            if terminal.part != supply.part
            and (table := potentials.at(tables, terminal.name) & isolated)}


def _steps(subject: Subject, supply: Supply, terminal: str, table: Table) -> int:
    """Return how far a terminal is from the supply's line; last where no way is known."""
    path = find_path(subject.circuit, subject.earliest(table), (supply.line,), terminal,
                     through_loads=True)
    return len(path.steps) if path else len(subject.circuit.terminals)


def _how(subject: Subject, supply: Supply, terminal: str, table: Table) -> str:
    if subject.potentials.at(subject.potentials.line_of[supply.name], terminal) & table:
        return "is still live from"
    if subject.potentials.live(terminal) & table:
        return "is still live through a load from"
    return "may still be live, through a load or a closed part, from"


def _words(subject: Subject, supply: Supply) -> str:
    return listed((f"{name} {word}" for name, word in subject.circuit.words(supply.isolated)),
                  "and")


def _found(terminals: int, everything: bool) -> str:
    when = "with every supply isolated" if everything else "while another supply is on"
    return f"{terminals} {'terminal' if terminals == 1 else 'terminals'} live {when}"


RULE = Rule(
    "stays-live-isolated",
    "Terminal stays live with its supply isolated",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Electricity at Work Regulations 1989, regulation 12(1)(b): "
                               "suitable means of isolation"),
        Basis(Known.MEMORY, "BS 7671 461.2 and 462.2"),
        Basis(Known.PRACTICE, "one point of isolation, double pole, for boiler and all controls"),
    ),
    judge,
)
