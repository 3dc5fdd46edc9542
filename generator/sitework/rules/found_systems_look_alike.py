"""Two systems on which different conversions start, and which no question tells apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.findings import Finding, Severity
from generator.recipe.met import AllMet, Met


def judge(met: AllMet) -> Verdict:
    """Ask of every two systems that say how they look."""
    pairs = [(one, other) for one, other in combinations(met.told, 2)
             if one.starts != other.starts]
    return verdict(len(pairs), "pairs of systems", _findings(met, pairs))


def _findings(met: AllMet, pairs: Sequence[tuple[Met, Met]]) -> Iterator[Finding]:
    for one, other in pairs:
        if not any(apart(one, other, name) for name in met.signs.questions):
            yield Finding(
                RULE.name, RULE.severity,
                f"`{one.name}` and `{other.name}` look alike, and different conversions start "
                "there.",
                (one.source.key_place("seen"),
                 other.source.key_place("seen").noted("this one may look the same")),
                found="no question to which the two have different answers only",
                expected="one that tells them apart, before opening or after",
                hint="look at both drawings for what differs, and put a question for it into "
                     "signs/on-the-wall.yaml")


def apart(one: Met, other: Met, question: str) -> bool:
    """Tell whether whatever is answered to a question rules one of two systems out."""
    answers = one.answers(question), other.answers(question)
    return all(answers) and {*answers[0]}.isdisjoint(answers[1])


RULE = Rule(
    "found-systems-look-alike",
    "Found systems look alike",
    Severity.WARNING,
    (Basis(Known.PRACTICE, "who takes one system for another follows the wrong page to its end"),),
    judge,
)
