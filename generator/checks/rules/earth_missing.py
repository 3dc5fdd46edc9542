"""A part of class I that can be live while no protective conductor reaches it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.findings import Finding, Severity, listed
from generator.recipe.wall import Mounted


def judge(subject: Subject) -> Verdict:
    """Ask of every part of class I with a terminal that is live in some reachable state."""
    parts = [part for part in subject.wall.parts.values()
             if part.part.protection == "class I" and _live(subject, part)]
    return verdict(len(parts), "parts of class I that can be live",
                   (f for part in parts for f in _bare(subject, part)))


def _live(subject: Subject, part: Mounted) -> tuple[str, ...]:
    names = (f"{part.designation}:{name}" for name in part.part.terminals)
    return tuple(name for name in names if name in subject.ever_live)


def _bare(subject: Subject, part: Mounted) -> Iterator[Finding]:
    potentials, terminal = subject.potentials, _live(subject, part)[0]
    earths = tuple(f"{part.designation}:{name}" for name, each in part.part.terminals.items()
                   if each.carries == "earth")
    # An earth that a contact can open is no earth: it must be made in every state.
    if any(not potentials.space.full & ~potentials.at(potentials.earth, e) for e in earths):
        return
    landed = (place for earth in earths for place in subject.landing_places(earth))
    places, state, path = subject.evidence(
        potentials.live(terminal) & subject.reachable, subject.reachable, subject.lines(), terminal,
        through_loads=True)
    yield Finding(
        RULE.name, RULE.severity,
        f"The metal of `{part.designation}` has no earth, and `{terminal}` can be live.",
        tuple(dict.fromkeys((*subject.made_safe((part.designation,), "GNYE"), *landed,
                             *subject.landing_places(terminal), *places,
                             part.place.noted("the part")))),
        found=f"{listed(earths, 'and')} not joined to a protective conductor" if earths
        else "no earth terminal",
        expected="joined to the protective conductor of a supply, through no contact",
        state=state, path=path)


RULE = Rule(
    "earth-missing",
    "Earth is missing at a metal part",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 411.3; class II is the exception, 412.2.3.2"),
        Basis(Known.PRACTICE, "green-and-yellow goes to the metal body of every valve, pump and "
                              "thermostat"),
    ),
    judge,
)
