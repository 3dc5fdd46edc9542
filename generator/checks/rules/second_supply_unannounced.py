"""An enclosure fed from more than one supply, and no notice on it that names them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Supply
from generator.circuit.potentials import could_be_live
from generator.findings import Finding, Place, Severity, listed

Fed = dict[str, str]
"""By supply: the first terminal of an enclosure that it can make live or neutral."""


def judge(subject: Subject) -> Verdict:
    """Ask of every enclosure that any supply reaches, where the system has more than one."""
    several = len(subject.circuit.supplies) > 1
    fed = {box: found for box, found in _fed(subject).items() if found and several}
    return verdict(len(fed), "enclosures with mains in them, in a system of several supplies",
                   (f for box, found in fed.items() for f in _unannounced(subject, box, found)))


def _fed(subject: Subject) -> dict[str, Fed]:
    reached = {s.name: _reached(subject, s) for s in subject.circuit.supplies}
    within = {box: {name: [t for t in reached[name] if t in terminals] for name in reached}
              for box, terminals in subject.enclosures().items()}
    return {box: {name: found[0] for name, found in by_supply.items() if found}
            for box, by_supply in within.items()}


def _reached(subject: Subject, supply: Supply) -> tuple[str, ...]:
    """Return the terminals a supply can make live or neutral, those joined to it first."""
    potentials = subject.potentials
    own = (potentials.line_of[supply.name], potentials.neutral_of[supply.name])
    names = [terminal.name for terminal in subject.circuit.terminals]
    return tuple(dict.fromkeys(
        name for tables in (*own, could_be_live(potentials, supply.name)) for name in names
        if potentials.at(tables, name) & subject.reachable))


def _unannounced(subject: Subject, box: str, fed: Fed) -> Iterator[Finding]:
    if len(fed) < 2 or _announced(subject, box, fed):
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"The enclosure of `{box}` holds terminals of {listed(fed, 'and')}, and no notice says so.",
        _places(subject, box, fed),
        found="; ".join(f"`{terminal}` from `{name}`{_way(subject, name, terminal)}"
                        for name, terminal in fed.items()),
        expected=f"a notice `at: {box}` that names "
                 f"{listed((_isolator(subject, name) for name in fed), 'and')}",
        hint="better still: one supply for everything in one enclosure")


def _way(subject: Subject, supply: str, terminal: str) -> str:
    potentials = subject.potentials
    joined = any(potentials.at(tables[supply], terminal) & subject.reachable
                 for tables in (potentials.line_of, potentials.neutral_of))
    return "" if joined else ", through a load or a closed part"


def _announced(subject: Subject, box: str, fed: Fed) -> bool:
    """Return whether a notice on the enclosure names every supply, or the part it comes from."""
    said = (set(re.findall(r"[\w-]+", notice.text)) for notice in subject.wall.system.notices
            if subject.outermost(notice.at) == box)
    return any(all(words & {name, _isolator(subject, name)} for name in fed) for words in said)


def _isolator(subject: Subject, supply: str) -> str:
    return next(each.part for each in subject.circuit.supplies if each.name == supply)


def _places(subject: Subject, box: str, fed: Fed) -> tuple[Place, ...]:
    # The supply named last is the one that was brought in besides the first.
    landed = (place for terminal in reversed(fed.values())
              for place in subject.landing_places(terminal))
    return tuple(dict.fromkeys((*landed, subject.wall.parts[box].place.noted("the enclosure"))))


RULE = Rule(
    "second-supply-unannounced",
    "Second supply in one enclosure is not announced",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 514.11.1"),
        Basis(Known.PRACTICE, "the notice names what isolates each supply"),
    ),
    judge,
)
