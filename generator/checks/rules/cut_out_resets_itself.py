"""An overheat cut-out on an unvented cylinder that lets the heat back in by itself."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.checks.zoned import STORED, UNVENTED
from generator.circuit.elements import Variable
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every cut-out that protects an unvented cylinder: the zone's, a heat source's own."""
    switches = dict.fromkeys(_cut_outs(subject))
    return verdict(len(switches), "cut-outs of an unvented cylinder",
                   (f for switch in switches for f in _resets(switch)))


def _cut_outs(subject: Subject) -> Iterator[Variable]:
    zones = [zone for zone in subject.circuit.zones if zone.stores == UNVENTED]
    for zone in zones:
        yield from (subject.circuit.variables[v] for v, _ in zone.cut_out)
    for source in subject.sources(STORED) if zones else ():
        yield from (subject.circuit.variables[v] for v, _ in subject.own_cut_out(source))


def _resets(switch: Variable) -> Iterator[Finding]:
    if switch.resets == "by hand":
        return
    how = "resets by itself" if switch.resets else "does not say how it resets"
    yield Finding(
        RULE.name, RULE.severity, f"The cut-out `{switch.name}` {how}, on an unvented cylinder.",
        (switch.place,), found=f"`resets: {switch.resets}`" if switch.resets else "no `resets:`",
        expected="`resets: by hand`, a cut-out that stays open until a person presses its button",
        hint="a thermostat is not a cut-out; fit the one that belongs to the cylinder")


RULE = Rule(
    "cut-out-resets-itself",
    "Cut-out resets by itself",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "Approved Document G (2015 edition with 2016 amendments) 3.18 and "
                               "key terms: reset only by hand; 3.33: each heat source"),
    ),
    judge,
)
