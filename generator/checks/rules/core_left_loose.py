"""A core of a laid cable that nobody says anything about."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.findings import Finding, Severity, listed
from generator.recipe.wall import Laid


def judge(subject: Subject) -> Verdict:
    """Ask of every core of every cable."""
    cables = tuple(subject.wall.cables.values())
    return verdict(sum(len(cable.cable.cores) for cable in cables), "cores of laid cables",
                   (f for cable in cables for f in _loose(subject, cable)))


def _loose(subject: Subject, cable: Laid) -> Iterator[Finding]:
    loose = [colour for colour in cable.cable.cores if colour not in cable.laid.cores]
    if loose:
        yield Finding(
            RULE.name, RULE.severity,
            f"Nothing is said of {listed(loose, 'and')} in the cable `{cable.designation}`.",
            (subject.wall.source.key_place("cables", cable.designation, "cores").noted("its cores"),
             cable.place.noted("the cable")),
            found=f"{len(loose)} of {len(cable.cable.cores)} cores left loose",
            expected="`from:` and `to:`, or `made-safe:` with how both ends are made safe")


RULE = Rule(
    "core-left-loose",
    "Core is left loose",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "every core of a cable is landed, or made safe at both ends"),),
    judge,
)
