"""A conversion that starts from a system of which nobody says how it looks."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.findings import Finding, Severity
from generator.recipe.met import AllMet


def judge(met: AllMet) -> Verdict:
    """Ask of every system that a conversion starts from."""
    return verdict(sum(1 for each in met.systems if each.starts), "systems", _findings(met))


def _findings(met: AllMet) -> Iterator[Finding]:
    for each in met.untold:
        if each.starts:
            titles = "; ".join(start.title for start in each.starts)
            yield Finding(
                RULE.name, RULE.severity,
                f"A conversion starts from `{each.name}`, and nothing says how that looks.",
                (each.source.place("name"),),
                found=f"no `seen:`; from here starts: {titles}",
                expected="`seen:` with answers to questions of signs/on-the-wall.yaml",
                hint="say what is seen on site, and leave out what can be either way")


RULE = Rule(
    "found-system-shows-nothing",
    "Found system shows nothing",
    Severity.WARNING,
    (Basis(Known.PRACTICE, "what nothing on the wall leads to is found by luck"),),
    judge,
)
