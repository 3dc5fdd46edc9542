"""A core whose colour says something else than what it does, and no sleeve puts it right."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Conductor
from generator.findings import Finding, Severity

SAYS = {"BU": "neutral", "GNYE": "earth", "GN": "earth"}
"""What a colour promises; every other colour is a line (BS 7671 Table 51)."""
SLEEVE = {"line": "BN", "neutral": "BU"}


def judge(subject: Subject) -> Verdict:
    """Ask of every core and coloured link that carries mains in some reachable state."""
    cores = [(core, does) for core in subject.circuit.conductors
             if core.colour and (does := _function(subject, core))]
    return verdict(len(cores), "cores and links that carry mains",
                   (f for core, does in cores for f in _misleading(core, does)))


def _function(subject: Subject, core: Conductor) -> str:
    """Return what a core is in some reachable state: line comes before neutral."""
    potentials, reachable = subject.potentials, subject.reachable
    if (potentials.at(potentials.line, core.a)) & reachable:
        return "line"
    return "neutral" if potentials.at(potentials.neutral, core.a) & reachable else ""


def _misleading(core: Conductor, does: str) -> Iterator[Finding]:
    # A green-and-yellow core in use as a line is a fault of its own; no sleeve mends it.
    says = SAYS.get(core.sleeve or core.colour, "line")
    if says == does or core.colour == "GNYE":
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"The core `{core.name}` looks like {says} and is {does}.", (core.place,),
        found=f"`{core.colour}`" + (f" sleeved `{core.sleeve}`" if core.sleeve else ", no sleeve"),
        expected=f"`sleeve: {SLEEVE[does]}`, at both ends")


RULE = Rule(
    "colour-misleads",
    "Colour misleads about what a core does",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "BS 7671 Table 51; IEC 60445"),
        Basis(Known.MEMORY, "BS 7671 514.3.1 and 514.3.2: marked at both ends"),
    ),
    judge,
)
