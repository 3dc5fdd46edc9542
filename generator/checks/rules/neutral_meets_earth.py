"""A neutral joined to the protective conductor behind the terminals where the supply arrives."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.findings import Finding, Place, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every supply's neutral, in every reachable state."""
    asked = count(subject.reachable) * len(subject.circuit.supplies)
    return verdict(asked, "reachable states of a supply's neutral", _joined(subject))


def _joined(subject: Subject) -> Iterator[Finding]:
    potentials, earths = subject.potentials, [s.earth for s in subject.circuit.supplies]
    for supply in subject.circuit.supplies:
        joined = potentials.at(potentials.earth, supply.neutral) & subject.reachable
        if not joined:
            continue
        places, state, path = subject.evidence(joined, subject.reachable, earths, supply.neutral)
        yield Finding(
            RULE.name, RULE.severity, f"The neutral of `{supply.name}` is joined to earth.",
            _earths_last(places), found="neutral and protective conductor on one net",
            expected="the two kept apart behind the supply's terminals",
            hint="find the core or link of the path that is on the wrong way",
            state=state, path=path)


def _earths_last(places: tuple[Place, ...]) -> tuple[Place, ...]:
    # An earth core on the way is where it belongs; what leaves the way of the earth is not.
    return tuple(sorted(places, key=lambda place: "GNYE" in place.note + place.text))


RULE = Rule(
    "neutral-meets-earth",
    "Neutral meets earth",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 312 and 411: neutral and protective conductor stay apart "
                            "behind the origin"),
        Basis(Known.PRACTICE, "a residual-current device trips, or load current runs in the earth"),
    ),
    judge,
)
