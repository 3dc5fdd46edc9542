"""A contact or fuse that opens the neutral and leaves the line made."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Contact, Supply
from generator.circuit.potentials import ByNet
from generator.findings import Finding, Severity, listed

Case = tuple[Contact, Supply]
"""A contact with both ends at the neutral of a supply."""


def judge(subject: Subject) -> Verdict:
    """Ask of every contact that has both ends at the neutral of one supply in reachable states."""
    cases = [(contact, supply) for supply in subject.circuit.supplies
             for contact in subject.circuit.contacts
             if _in(subject, subject.potentials.neutral_of[supply.name], contact)]
    return verdict(len(cases), "contacts in a neutral",
                   (_finding(subject, *key, alone) for key, alone in _alone(subject, cases)))


def _alone(subject: Subject, cases: list[Case]) -> Iterator[tuple[tuple[str, bool], list[Contact]]]:
    """Yield by supply and sort the fuses, and the contacts that leave its line made."""
    groups: dict[tuple[str, bool], list[Contact]] = {}
    for contact, supply in cases:
        fuse = any(subject.circuit.variables[v].kind == "fuse" for v, _ in contact.when)
        if fuse or not _opens_line_too(subject, contact, supply):
            groups.setdefault((supply.name, fuse), []).append(contact)
    yield from groups.items()


def _in(subject: Subject, tables: ByNet, contact: Contact) -> bool:
    potentials, reachable = subject.potentials, subject.reachable
    return all(potentials.at(tables, end) & reachable for end in (contact.a, contact.b))


def _finding(subject: Subject, supply: str, fuse: bool, alone: list[Contact]) -> Finding:
    one, sort = len(alone) == 1, "fuse" if fuse else "contact"
    landed = (place for contact in alone for end in (contact.b, contact.a)
              for place in subject.landing_places(end))
    ends = dict.fromkeys(end for contact in alone for end in (contact.a, contact.b))
    return Finding(
        RULE.name, RULE.severity,
        f"The {sort if one else f'{sort}s'} {listed((c.name for c in alone), 'and')} "
        f"{'opens' if one else 'open'} the neutral of `{supply}`{'' if fuse else ' alone'}.",
        tuple(dict.fromkeys((*landed, *(c.place.noted(note(c)) for c in alone)))),
        found=f"{listed(ends, 'and')} at neutral",
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
