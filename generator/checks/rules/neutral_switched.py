"""A contact or fuse that opens the neutral and leaves the line made."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.flat import Contact, Supply
from generator.circuit.potentials import ByNet
from generator.findings import Finding, Severity


def judge(subject: Subject) -> Verdict:
    """Ask of every contact that has both ends at the neutral of one supply in reachable states."""
    cases = [(contact, supply) for supply in subject.circuit.supplies
             for contact in subject.circuit.contacts
             if _in(subject, subject.potentials.neutral_of[supply.name], contact)]
    return verdict(len(cases), "contacts in a neutral",
                   (f for contact, supply in cases for f in _alone(subject, contact, supply)))


def _in(subject: Subject, tables: ByNet, contact: Contact) -> bool:
    potentials, reachable = subject.potentials, subject.reachable
    return all(potentials.at(tables, end) & reachable for end in (contact.a, contact.b))


def _alone(subject: Subject, contact: Contact, supply: Supply) -> Iterator[Finding]:
    fuse = any(subject.circuit.variables[v].kind == "fuse" for v, _ in contact.when)
    if not fuse and _opens_line_too(subject, contact, supply):
        return
    yield Finding(
        RULE.name, RULE.severity,
        f"{'The fuse' if fuse else 'The contact'} `{contact.name}` opens the neutral of "
        f"`{supply.name}`" + ("." if fuse else " alone."),
        tuple(dict.fromkeys((*subject.landing_places(contact.b),
                             *subject.landing_places(contact.a),
                             contact.place.noted(f"contact {contact.name}")))),
        found=f"`{contact.a}` and `{contact.b}` at neutral",
        expected="a fuse in the line only" if fuse
        else "in the line, or linked with a contact that opens the line")


def _opens_line_too(subject: Subject, contact: Contact, supply: Supply) -> bool:
    """Return whether whatever opens the contact opens the supply's line as well."""
    line = subject.potentials.line_of[supply.name]
    return any(set(contact.when) <= set(other.when) and _in(subject, line, other)
               for other in subject.circuit.contacts)


RULE = Rule(
    "neutral-switched",
    "Neutral is switched or fused alone",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 132.14, 530 and 537"),
        Basis(Known.PRACTICE, "what is switched off by its neutral stays live"),
    ),
    judge,
)
