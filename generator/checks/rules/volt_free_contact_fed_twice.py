"""A volt-free contact or pair whose two sides are fed from different sources."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from generator.checks.evidence import nearest_first
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact, Load
from generator.circuit.flat import without
from generator.circuit.path import Path, find_path
from generator.circuit.potentials import ever_joined, solve
from generator.findings import Finding, Place, Severity

LOW = "extra-low voltage"


def judge(subject: Subject) -> Verdict:
    """Ask of every volt-free contact with something on both sides, and of every volt-free pair."""
    contacts = [contact for contact in subject.volt_free()
                if subject.landed(contact.a) and subject.landed(contact.b)]
    pairs = [load for load in subject.pairs() if subject.landed(load.a) or subject.landed(load.b)]
    return verdict(len(contacts) + len(pairs), "volt-free contacts and pairs that are wired",
                   (*(f for contact in contacts for f in _two_supplies(subject, contact)),
                    *(f for load in pairs for f in _mains(subject, load)),
                    *(f for both in combinations(pairs, 2) for f in _shared(subject, *both))))


def _two_supplies(subject: Subject, contact: Contact) -> Iterator[Finding]:
    rest = without(subject.circuit, contact)
    potentials = solve(rest)
    for one, other in combinations(subject.circuit.supplies, 2):
        for a, b in ((contact.a, contact.b), (contact.b, contact.a)):
            table = (potentials.at(potentials.line_of[one.name], a)
                     & potentials.at(potentials.line_of[other.name], b) & subject.reachable)
            path = find_path(rest, subject.earliest(table), (other.line,), b) if table else None
            if path:
                yield Finding(
                    RULE.name, RULE.severity, f"The volt-free contact `{contact.name}` is fed by "
                    f"`{one.name}` at `{a}` and by `{other.name}` at `{b}`.",
                    (*nearest_first(path), *subject.landing_places(a)),
                    found="closed, it joins the lines of two supplies",
                    expected="one source on the common, and on the other side only what it feeds",
                    hint="a contact passes one supply on; a second supply needs a contact of its "
                         "own, on another pole",
                    state=subject.shown(table, subject.reachable), path=path.terminals)


def _mains(subject: Subject, load: Load) -> Iterator[Finding]:
    """Yield a pair that mains reaches; where it is extra-low voltage another rule says so."""
    if subject.circuit.terminal[load.a].carries == LOW:
        return
    starts = (*subject.lines(), *subject.neutrals())
    mains = ever_joined(subject.potentials, starts)
    ways = (find_path(subject.circuit, None, starts, end, through_loads=True)
            for end in (load.a, load.b) if end in mains)
    if path := min((way for way in ways if way), key=lambda way: len(way.steps), default=None):
        yield Finding(
            RULE.name, RULE.severity,
            f"Mains reaches `{path.terminals[-1]}`, a terminal of the volt-free pair "
            f"`{load.name}`.", _entry_first(subject, path),
            found="the boiler's own voltage on it, and mains from elsewhere",
            expected="the pair goes to one volt-free contact that nothing else feeds",
            hint="take out the link from line to the contact's common; from 230 V, go over a relay",
            path=path.terminals)


def _entry_first(subject: Subject, path: Path) -> tuple[Place, ...]:
    """Return the places of a path, first what brings mains to the volt-free contact in it."""
    apart = {end for contact in subject.volt_free() for end in (contact.a, contact.b)}
    entry = next((i for i, end in enumerate(path.terminals) if end in apart), None)
    before = Path(path.start, path.steps[:entry])
    return tuple(dict.fromkeys((*nearest_first(before), *nearest_first(path))))


def _shared(subject: Subject, one: Load, other: Load) -> Iterator[Finding]:
    net = subject.potentials.nets.of
    if one.part != other.part and {net[one.a], net[one.b]} == {net[other.a], net[other.b]}:
        yield Finding(
            RULE.name, RULE.severity,
            f"The volt-free pairs `{one.name}` and `{other.name}` hang on one contact.",
            (*subject.landing_places(other.a), *subject.landing_places(one.a)),
            found="the voltages of two boilers joined", expected="a contact for each boiler",
            hint="a relay with two poles gives each boiler a contact of its own")


RULE = Rule(
    "volt-free-contact-fed-twice",
    "Volt-free contact is fed twice",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "a link from line to common for mains switching, none for volt-free "
                              "boiler terminals; mains on them kills the board"),
        Basis(Known.MEMORY, "BS 7671 514.11.1: parts fed from more than one source are announced"),
    ),
    judge,
)
