"""More current than a contact, core or fuse is made for; or a fuse too large for a core."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from itertools import chain

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.currents import Flow, drawing, flows, most_possible, worst
from generator.circuit.elements import Conductor, Contact
from generator.circuit.tables import Table
from generator.findings import Finding, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every contact and core of known rating that may carry a load.

    And of every core whose line comes through a fuse of known rating.
    """
    circuit = subject.circuit
    ratings = _Ratings(subject)
    guarded = [(core, fuse) for core in circuit.conductors
               if core.amps and (fuse := _guard(subject, core))]
    return verdict(len(ratings.asked) + len(guarded),
                   "ratings of contacts and cores that may carry a load, and cores behind a fuse",
                   chain(ratings.overloaded(), _oversized(guarded)))


class _Ratings:
    """Every rated contact and core of a system, held against the most that it carries.

    What would be inside its rating with all loads at once is not computed any further.
    """

    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        self.bounds = {word: most_possible(subject.circuit, word == INDUCTIVE)
                       for word in (RESISTIVE, INDUCTIVE)}
        rated: tuple[Contact | Conductor, ...] = (
            *subject.circuit.contacts, *subject.circuit.conductors)
        self.asked = [each for each in rated if each.amps and each in self.bounds[RESISTIVE]]

    @cached_property
    def states(self) -> Table:
        """Where a circuit stays: settled, or moving for ever."""
        return self.subject.settled | self.subject.motion.endless

    @cached_property
    def flowing(self) -> tuple[Flow, ...]:
        return flows(self.subject.potentials, self.states)

    def overloaded(self) -> Iterator[Finding]:
        for element in self.asked:
            for word, limit in _limits(element):
                if tenths(self.bounds[word][element]) > limit:
                    yield from self._over(element, word, limit)

    def _over(self, element: Contact | Conductor, word: str, limit: float) -> Iterator[Finding]:
        most = worst(self.flowing, element, word == INDUCTIVE)
        amps = tenths(most.amps)
        if amps <= limit:
            return
        subject = self.subject
        state = subject.earliest(most.states)
        flow = next(f for f in self.flowing if f.states >> state & 1 and element in f.amps)
        loads = drawing(subject.circuit, flow, element)
        guess = "" if most.predictable else ", electronics counted as a resistance"
        yield Finding(
            RULE.name, RULE.severity,
            f"`{element.name}` carries {amps:g} A{word} and is made for {limit:g} A.",
            (element.place.noted(element.name),
             *(load.place.noted(f"load {load.name}") for load in loads)),
            found=f"{amps:g} A for {listed((load.name for load in loads), 'and')}{guess}",
            expected=f"at most {limit:g} A{word}",
            state=subject.shown(most.states, self.states))


RESISTIVE, INDUCTIVE = "", " inductive"


def _limits(element: Contact | Conductor) -> Iterator[tuple[str, float]]:
    yield RESISTIVE, element.amps
    if isinstance(element, Contact) and 0 < element.inductive < element.amps:
        yield INDUCTIVE, element.inductive


def tenths(amps: float) -> float:
    """Return a current to a tenth of an ampere, as ratings are given: 3 kW counts as 13 A."""
    return round(amps, 1)


def _guard(subject: Subject, core: Conductor) -> Contact | None:
    """Return the smallest fuse of known rating that the line of a core must pass."""
    variables = subject.circuit.variables
    fuses = (contact for contact in subject.circuit.contacts
             if contact.amps and any(variables[v].kind == "fuse" for v, _ in contact.when))
    return min((fuse for fuse in fuses if _behind(subject, core, fuse)),
               key=lambda fuse: fuse.amps, default=None)


def _behind(subject: Subject, core: Conductor, fuse: Contact) -> bool:
    """Return whether a core takes its line through a fuse and no other way."""
    potentials = subject.potentials
    live = potentials.at(potentials.line, core.a) & subject.reachable
    return bool(live) and not live & ~potentials.closed(fuse)


def _oversized(guarded: Iterable[tuple[Conductor, Contact]]) -> Iterator[Finding]:
    thin = sorted(((core, fuse) for core, fuse in guarded if core.amps < fuse.amps),
                  key=lambda pair: pair[0].amps)
    # The thinnest core speaks for all behind its fuse.
    for core, fuse in {fuse.name: (core, fuse) for core, fuse in reversed(thin)}.values():
        yield Finding(
            RULE.name, RULE.severity,
            f"The fuse of {fuse.amps:g} A in `{fuse.part}` stands before "
            f"`{core.name}`, which carries {core.amps:g} A.",
            (fuse.place.noted("the fuse"), core.place.noted("the flex")),
            found=f"a fuse of {fuse.amps:g} A",
            expected=f"a fuse of at most {core.amps:g} A, or a larger flex")


RULE = Rule(
    "rating-exceeded",
    "Rating is exceeded",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "BS 7671 Table 4F3A: what a flexible core carries"),
        Basis(Known.MEMORY, "EN 60730-1: a contact marked 3(1) A carries 3 A resistive, 1 A "
                            "inductive"),
        Basis(Known.PRACTICE, "3 A fuse before heating controls; behind 13 A no flex below "
                              "1.25 mm²"),
    ),
    judge,
)
