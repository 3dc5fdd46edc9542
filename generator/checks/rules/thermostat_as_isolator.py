"""A supply said to be isolated by something that only controls: a thermostat, a call, a cut-out."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Supply
from generator.findings import Finding, Severity

ISOLATES = ("isolator", "fuse")
SAID = {"temperature": "a thermostat", "call": "a call", "cut-out": "a cut-out",
        "position": "what the circuit itself moves"}


def judge(subject: Subject) -> Verdict:
    """Ask of everything that a supply is said to be isolated by."""
    supplies = subject.circuit.supplies
    return verdict(sum(len(supply.isolated) for supply in supplies), "settings that isolate",
                   (f for supply in supplies for f in _controls(subject, supply)))


def _controls(subject: Subject, supply: Supply) -> Iterator[Finding]:
    source, parts = subject.wall.source, subject.wall.parts
    for variable in (subject.circuit.variables[v] for v, _ in supply.isolated):
        if variable.kind not in ISOLATES:
            yield Finding(
                RULE.name, RULE.severity,
                f"`{supply.name}` is said to be isolated by `{variable.name}`, "
                f"{SAID[variable.kind]}.",
                (source.key_place("supplies", supply.name, "isolated-by", variable.name),
                 variable.place.noted(parts[variable.part].called)),
                found="a contact that opens for control, with no declared gap",
                expected="a switch that breaks both poles, or a fuse that is drawn and kept",
                hint="a thermostat closes again by itself while somebody has a hand in the box")


RULE = Rule(
    "thermostat-as-isolator",
    "Thermostat is taken for an isolator",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Electricity at Work Regulations 1989, regulation 12(1)(b): "
                               "isolation stays off and cannot be made again by itself"),
        Basis(Known.MEMORY, "IEC 60730-1 2.4 and 6.4: micro-disconnection is adequate for "
                            "function and is never a means of isolation"),
    ),
    judge,
)
