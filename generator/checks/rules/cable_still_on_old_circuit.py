"""A cable taken over for a new purpose that is still joined to the circuit it used to belong to."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import Conductor, Load, Supply
from generator.circuit.potentials import could_be_live
from generator.findings import Finding, Severity, listed


def judge(subject: JobSubject) -> Verdict:
    """Ask of every cable that stays and of which at least one core has changed its ends."""
    cables = [name for name in subject.found.wall.cables if _taken_over(subject, name)]
    return verdict(len(cables), "cables of which an end has moved",
                   (f for name in cables for f in _still_on(subject, name)))


def _taken_over(subject: JobSubject, name: str) -> bool:
    before, after = (side.wall.cables.get(name) for side in (subject.found, subject.fitted))
    if after is None or before is None or before.laid.is_ != after.laid.is_:
        return False
    return _ends(subject.found, name) != _ends(subject.fitted, name)


def _ends(side: Subject, name: str) -> dict[str, frozenset[str]]:
    return {core.name: frozenset((core.a, core.b)) for core in _cores(side, name)}


def _cores(side: Subject, name: str) -> list[Conductor]:
    return [core for core in side.circuit.conductors if core.cable == name]


def _still_on(subject: JobSubject, name: str) -> Iterator[Finding]:
    # A supply is told by the terminal where its line arrives: its name may change with the job.
    old = {supply.line for supply in subject.found.circuit.supplies
           if _could_feed(subject.found, name, supply)}
    now = [supply for supply in subject.fitted.circuit.supplies
           if _met(subject.fitted, name, supply)]
    left = [supply for supply in now if supply.line in old]
    if len(now) < 2 or not left:
        return
    cores = [core for core in _cores(subject.fitted, name)
             if any(_joined(subject.fitted, core, supply) for supply in left)]
    yield Finding(
        RULE.name, RULE.severity,
        f"The cable `{name}` is taken over and still on {listed(s.name for s in left)}.",
        (*(core.place.noted(note(core)) for core in cores),
         subject.fitted.wall.cables[name].place.noted("the cable"),
         subject.found.wall.source.key_place("cables", name).noted("as found")),
        found=f"it meets {listed((s.name for s in now), 'and')}",
        expected="a cable taken over leaves its old circuit at both ends, line and neutral",
        hint="take its cores out where they used to begin, and blank or label what is left there")


def _could_feed(side: Subject, name: str, supply: Supply) -> bool:
    """Return whether a supply may have fed the cable, whatever closed parts do inside."""
    live = could_be_live(side.potentials, supply.name)
    return any(side.potentials.at(live, core.a) or _joined(side, core, supply)
               for core in _cores(side, name))


def _joined(side: Subject, core: Conductor, supply: Supply) -> bool:
    """Return whether a core is joined to a supply's line or neutral in some state."""
    potentials = side.potentials
    return any(potentials.at(tables[supply.name], core.a)
               for tables in (potentials.line_of, potentials.neutral_of))


def _met(side: Subject, name: str, supply: Supply) -> bool:
    """Return whether a core is joined to a supply, or feeds a load whose other end is."""
    return any(_joined(side, core, supply) or any(_across(side, core, supply, load)
               for load in side.circuit.loads) for core in _cores(side, name))


def _across(side: Subject, core: Conductor, supply: Supply, load: Load) -> bool:
    """Return whether, in some state, a load lies between a core's line and a supply's neutral."""
    potentials = side.potentials
    neutral = potentials.neutral_of[supply.name]
    return any(potentials.at(line, core.a) & potentials.at(line, a) & potentials.at(neutral, b)
               for line in potentials.line_of.values()
               for a, b in ((load.a, load.b), (load.b, load.a)))


RULE = Rule(
    "cable-still-on-old-circuit",
    "Cable is still on its old circuit",
    Severity.ERROR,
    (
        Basis(Known.MEMORY, "BS 7671 314.4 and 521.8: the conductors of one circuit run together "
                            "and return to their own neutral"),
        Basis(Known.PRACTICE, "a cable taken over from an immersion heater is disconnected at both "
                              "ends first"),
    ),
    judge,
)
