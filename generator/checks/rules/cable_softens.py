"""A cable that is not made for heat, on the cylinder."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import part_of
from generator.findings import Finding, Severity, listed
from generator.recipe.wall import Laid


def judge(subject: Subject) -> Verdict:
    """Ask of every cable with an end on a part at the cylinder."""
    cables = [cable for cable in subject.wall.cables.values() if _hot_ends(subject, cable)]
    return verdict(len(cables), "cables that end at the cylinder",
                   (f for cable in cables for f in _softening(subject, cable)))


def _hot_ends(subject: Subject, cable: Laid) -> tuple[str, ...]:
    ends = (end for core in cable.laid.cores.values() for end in (core.from_, core.to) if end)
    parts = dict.fromkeys(map(part_of, ends))
    return tuple(part for part in parts if _at_cylinder(subject.wall.parts[part].placed.at))


def _at_cylinder(at: str) -> bool:
    return at.casefold().removeprefix("the ") == "cylinder"


def _softening(subject: Subject, cable: Laid) -> Iterator[Finding]:
    if not cable.cable.heat_resisting:
        yield Finding(
            RULE.name, RULE.severity,
            f"The cable `{cable.designation}` is not heat-resisting and ends at "
            f"{listed(_hot_ends(subject, cable), 'and')} on the cylinder.",
            (subject.wall.source.place("cables", cable.designation, "is").noted("its kind"),
             cable.place.noted("the cable")),
            found=cable.cable.name, expected="a heat-resisting flex, for 85 to 90 °C and more")


RULE = Rule(
    "cable-softens",
    "Cable softens at the cylinder",
    Severity.WARNING,
    (
        Basis(Known.PUBLISHED, "BS 7671 Table 4F3A notes: a 60 °C cord carries 0.41 of its current "
                               "at 55 °C, a 90 °C cord 0.96"),
        Basis(Known.PRACTICE, "heat-resisting flex where it touches cylinder or primary pipes"),
    ),
    judge,
)
