"""A load that ran before and can never run after, and no word of it to the owner."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import Load
from generator.findings import Finding, Place, Severity, near_miss, one_of


def judge(subject: JobSubject) -> Verdict:
    """Ask of every load that can run in the found system, and of every loss that is said."""
    loads = [load for load in subject.found.circuit.loads if _runs(subject.found, load)]
    said = tuple(_said(subject))
    return verdict(len(loads) + len(said), "loads that run as found, and losses that are said",
                   (*(f for load in loads for f in _lost(subject, load, [n for n, _ in said])),
                    *(f for name, place in said for f in _no_loss(subject, name, place))))


def _said(subject: JobSubject) -> Iterator[tuple[str, Place]]:
    for i, cost in enumerate(subject.job.conversion.cost):
        for j, name in enumerate(cost.loses):
            yield name, subject.job.source.place("cost", i, "loses", j)


def _runs(side: Subject, load: Load) -> bool:
    return bool(side.potentials.runs(load) & side.reachable)


def _lost(subject: JobSubject, load: Load, said: list[str]) -> Iterator[Finding]:
    still = subject.fitted.circuit.load.get(load.name)
    if load.name in said or (_runs(subject.fitted, still) if still else _replaced(subject, load)):
        return
    places = (subject.job.source.key_place("cost"), load.place.noted("ran before"))
    yield Finding(
        RULE.name, RULE.severity, f"`{load.name}` ran before and never runs again, unsaid.",
        (*places, still.place.noted("never runs")) if still else places,
        found="under `cost:`, " + (f"only {', '.join(f'`{name}`' for name in said)}" if said
                                   else "nothing that is lost"),
        expected=f"`- {{loses: [{load.name}], says: ...}}`, in the owner's words",
        hint="tell the owner before the job is quoted")


def _replaced(subject: JobSubject, load: Load) -> bool:
    """Return whether a load of the same kind runs in a part that was not there before."""
    fitted, before = subject.fitted, subject.found.wall.parts
    return any(other.kind == load.kind and other.part not in before and _runs(fitted, other)
               for other in fitted.circuit.loads)


def _no_loss(subject: JobSubject, name: str, place: Place) -> Iterator[Finding]:
    found = subject.found.circuit.load
    still = subject.fitted.circuit.load.get(name)
    if name not in found:
        yield Finding(RULE.name, RULE.severity, f"There is no load `{name}` to lose.", (place,),
                      found=f"`{name}`, which the found system has not",
                      expected=one_of(found) if found else "a load of the found system",
                      hint=near_miss(name, found))
    elif still and _runs(subject.fitted, still):
        yield Finding(RULE.name, RULE.severity, f"`{name}` is said to be lost, and runs.",
                      (place, still.place.noted("runs")), found="it runs in the fitted system",
                      expected="under `loses:` only what never runs again")


RULE = Rule(
    "supply-left-unsaid",
    "What the owner loses is not said",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "an owner who loses a heater agrees to it before the job"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 9.1 and 9.2: the owner "
                               "is told how the system works"),
    ),
    judge,
)
