"""The circuit at any stage of the work: some ends on their terminals, others hanging loose."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from generator.checks.subject import JobSubject
from generator.circuit.elements import Condition, Conductor, Contact, Supply, Terminal, part_of
from generator.circuit.flat import Circuit
from generator.circuit.potentials import could_be_live, solve
from generator.sitework.changes import Changes
from generator.sitework.ends import Run, runs
from generator.sitework.isolation import opened_parts

Landed = Mapping[str, str]
"""By the name of an end: the terminal it is on. An end that is not named hangs loose."""


@dataclass(frozen=True)
class Workplace:
    """Both systems of a conversion at once: what any stage between them is made of.

    `circuit` holds every part of both and no core; `opened` are the parts that are worked in.
    """

    circuit: Circuit
    runs: tuple[Run, ...]
    opened: frozenset[str]
    reach: frozenset[str]

    @property
    def found(self) -> Landed:
        """Where every end is before the work."""
        return {end.name: end.before for run in self.runs for end in run.ends if end.before}

    @property
    def fitted(self) -> Landed:
        """Where every end is after the work."""
        return {end.name: end.after for run in self.runs for end in run.ends if end.after}


def workplace(job: JobSubject, changes: Changes) -> Workplace:
    """Return what the stages of a conversion are made of."""
    every, opened = runs(job.job, changes), opened_parts(changes)
    both = _both(job.found.circuit, job.fitted.circuit)
    loose = tuple(_loose(end.name, both) for run in every for end in run.ends)
    reach = {t.name for t in both.terminals if t.part in opened and t.in_reach}
    return Workplace(replace(both, terminals=(*both.terminals, *loose)), every, opened,
                     frozenset({*reach, *(t.name for t in loose)}))


def _loose(name: str, circuit: Circuit) -> Terminal:
    return Terminal(name, "anything", 1, "", circuit.terminals[0].place)


def _both(found: Circuit, fitted: Circuit) -> Circuit:
    """Return the parts of both systems; what has one name in both is taken as it is found."""
    variables = tuple({v.name: v for side in (fitted, found) for v in side.variables}.values())
    number = {variable.name: i for i, variable in enumerate(variables)}

    def moved(side: Circuit, when: Condition) -> Condition:
        return tuple((number[side.variables[v].name], value) for v, value in when)

    contacts = {c.name: replace(c, when=moved(side, c.when))
                for side in (fitted, found) for c in side.contacts}
    supplies = {s.line: replace(s, isolated=moved(side, s.isolated))
                for side in (fitted, found) for s in side.supplies}
    return Circuit(
        variables=variables,
        terminals=tuple({t.name: t for s in (fitted, found) for t in s.terminals}.values()),
        conductors=tuple({c.name: c for s in (fitted, found) for c in s.conductors
                          if c.kind == "joint"}.values()),
        contacts=tuple(contacts.values()),
        loads=tuple({load.name: load for s in (fitted, found) for load in s.loads}.values()),
        devices=(), heat_sources=(), zones=(), supplies=tuple(_named(supplies.values())),
        closed=tuple(dict.fromkeys((*fitted.closed, *found.closed))))


def _named(supplies: Iterable[Supply]) -> Iterator[Supply]:
    """Yield supplies under names of their own: one name may stand for two before and after."""
    seen: set[str] = set()
    for supply in supplies:
        yield replace(supply, name=f"{supply.name} at {supply.part}") if supply.name in seen \
            else supply
        seen.add(supply.name)


def circuit_at(place: Workplace, landed: Landed) -> Circuit:
    """Return the circuit of a stage; only parts with a core or a supply on them have an inside."""
    whole = place.circuit
    used = {part_of(t) for t in landed.values()} | {
        part_of(t) for s in whole.supplies for t in (s.line, s.neutral, s.earth)}
    contacts = [c for c in whole.contacts if c.part in used]
    deciding = sorted({v for c in contacts for v, _ in c.when})
    return replace(
        whole,
        variables=tuple(whole.variables[v] for v in deciding),
        conductors=(*(_core(run, landed, whole) for run in place.runs),
                    *(c for c in whole.conductors if part_of(c.name) in used)),
        contacts=tuple(_renumbered(contacts, deciding)),
        supplies=tuple(replace(s, isolated=()) for s in whole.supplies),
        loads=tuple(load for load in whole.loads if load.part in used),
        closed=tuple(group for group in whole.closed if part_of(group[0]) in used))


def _core(run: Run, landed: Landed, whole: Circuit) -> Conductor:
    one, other = (landed.get(end.name, end.name) for end in run.ends)
    return Conductor(run.name, one, other, "core" if run.cable else "link",
                     whole.terminals[0].place, run.colour, run.sleeve, run.does, cable=run.cable)


def _renumbered(contacts: Iterable[Contact], deciding: list[int]) -> Iterator[Contact]:
    number = {v: i for i, v in enumerate(deciding)}
    for contact in contacts:
        yield replace(contact, when=tuple((number[v], value) for v, value in contact.when))


Live = Mapping[str, frozenset[str]]
"""By supply: the terminals and loose ends that it could make live."""


def live_at(place: Workplace, landed: Landed, without: Collection[str] = ()) -> Live:
    """Return what each supply could make live at a stage if it came back, in any position of
    switches and valves, closed parts at their worst; the runs of `without` are away.
    """
    circuit = circuit_at(place, landed)
    circuit = replace(circuit, conductors=tuple(
        c for c in circuit.conductors if c.name not in without))
    potentials = solve(circuit)
    of = potentials.nets.of
    found = {}
    for supply in circuit.supplies:
        nets = could_be_live(potentials, supply.name)
        found[supply.name] = frozenset(t for t, net in of.items() if nets.get(net))
    return found


def everything(live: Live) -> frozenset[str]:
    """Return what any of the supplies could make live."""
    return frozenset().union(*live.values())
