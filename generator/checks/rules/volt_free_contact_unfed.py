"""A volt-free contact with nothing to pass on, or a volt-free input that nothing joins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact, Load
from generator.circuit.flat import without
from generator.circuit.potentials import Standing, solve
from generator.findings import Finding, Severity, listed


@dataclass(frozen=True)
class _Side:
    """A volt-free contact that leads to a mains load at `to`, and whether line comes to it."""

    contact: Contact
    to: str
    other: str
    fed: bool


def judge(subject: Subject) -> Verdict:
    """Ask of every volt-free contact that leads to a mains load, and of every volt-free input."""
    sides = [side for contact in subject.volt_free() for side in _sides(subject, contact)]
    pairs = subject.pairs()
    unfed = {side.other: side for side in reversed(sides) if not side.fed}
    return verdict(len(sides) + len(pairs),
                   "volt-free contacts that lead to a mains load, and volt-free inputs",
                   (*(_finding(subject, side) for side in unfed.values()),
                    *(f for load in pairs for f in _unjoined(subject, load))))


def _sides(subject: Subject, contact: Contact) -> Iterator[_Side]:
    potentials = solve(without(subject.circuit, contact))
    live = {end: potentials.at(potentials.line, end) & subject.reachable
            for end in (contact.a, contact.b)}
    for to, other in ((contact.b, contact.a), (contact.a, contact.b)):
        # With the contact out, neutral comes back through the load that it leads to.
        leads = potentials.standings(to)[Standing.SOFT_NEUTRAL] & subject.reachable
        if leads and subject.landed(to):
            yield _Side(contact, to, other, bool(live[other] or live[to]))
            return


def _finding(subject: Subject, side: _Side) -> Finding:
    part = subject.wall.parts[side.contact.part]
    return Finding(
        RULE.name, RULE.severity,
        f"`{side.other}` is fed by nothing, though `{side.to}` leads to a mains load.",
        (*subject.landing_places(side.other), *subject.landing_places(side.to),
         part.place.noted("the part")),
        found=f"`{side.other}` is only ever {subject.stands(side.other, subject.reachable)}",
        expected=f"line on `{side.other}`; the contact itself brings none",
        hint="the contact is volt-free: a link from L to its common is made outside")


def _unjoined(subject: Subject, load: Load) -> Iterator[Finding]:
    bare = [end for end in (load.a, load.b) if not subject.landed(end)]
    if not bare and subject.potentials.runs(load) & subject.reachable:
        return
    cores = (core for end in (load.a, load.b) for core in subject.landed(end))
    yield Finding(
        RULE.name, RULE.severity,
        f"Nothing leads to {listed(bare, 'and')}, a volt-free input." if bare
        else f"Nothing ever joins `{load.a}` and `{load.b}`, a volt-free input.",
        (*(core.place.noted(note(core)) for core in cores), load.place.noted(note(load))),
        found=f"`{load.name}` never calls",
        expected="both cores of the pair on the two sides of one volt-free contact",
        hint="no line comes into it: the contact only joins the pair")


RULE = Rule(
    "volt-free-contact-unfed",
    "Volt-free contact is fed by nothing",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "a volt-free receiver needs a link from L to common to switch mains, "
                              "and none for volt-free boiler terminals"),
    ),
    judge,
)
