"""Single faults of a circuit: each is one edit of the flat circuit, solved like any other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations, pairwise, product

from generator.circuit.elements import BURNT, Conductor, Contact, Device
from generator.circuit.flat import Circuit, without
from generator.findings import Place
from generator.recipe.moving import Both, Either, Not, Wish, Word


class FaultKind(StrEnum):
    """What has gone wrong, in the words of the trade."""

    OPEN = "core broken or off"
    MISSING = "link missing"
    NEIGHBOUR = "core on the neighbouring terminal"
    SWAPPED = "two cores swapped"
    BRIDGED = "neighbouring terminals bridged"
    WELDED = "contact welded"
    DEAD = "contact dead"
    STUCK = "device stuck"
    BURNT = "load burnt out"


@dataclass(frozen=True)
class Fault:
    """One thing gone wrong: what, said in a sentence, where, and the circuit that it makes."""

    kind: FaultKind
    words: str
    place: Place
    circuit: Circuit


def single_faults(circuit: Circuit) -> tuple[Fault, ...]:
    """Return every single fault of a circuit that changes it, each edit once."""
    sound = _essence(circuit, circuit)
    made: dict[tuple[object, ...], Fault] = {}
    for fault in _edits(circuit):
        essence = _essence(fault.circuit, circuit)
        if essence != sound:
            made.setdefault(essence, fault)
    return tuple(made.values())


def _essence(circuit: Circuit, before: Circuit) -> tuple[object, ...]:
    """Return what decides how a circuit behaves: its nets, and what else is not as before."""
    return (tuple(circuit.nets.at),
            None if circuit.contacts == before.contacts else circuit.contacts,
            None if circuit.loads == before.loads else circuit.loads,
            None if circuit.devices == before.devices else circuit.devices)


def _edits(circuit: Circuit) -> Iterator[Fault]:
    wired = [(c, without(circuit, c)) for c in circuit.conductors if c.kind != "joint"]
    beside = _beside(circuit)
    for conductor, lacking in wired:
        yield _open(conductor, lacking)
    for conductor, lacking in wired:
        yield from _moved(circuit, conductor, lacking, beside)
    for (one, lacking), (two, _) in combinations(wired, 2):
        if one.cable and one.cable == two.cable:
            yield from _swapped(circuit, one, two, lacking)
    for pair in _neighbours(circuit):
        yield _bridged(circuit, *pair)
    for contact in circuit.contacts:
        yield _contact(circuit, contact, FaultKind.DEAD, None)
        # A fuse is drawn by hand: it cannot stay made.
        if not any(circuit.variables[v].kind == "fuse" for v, _ in contact.when):
            yield _contact(circuit, contact, FaultKind.WELDED, replace(contact, when=()))
    for device in circuit.devices:
        yield from _stuck(circuit, device)
    for load in circuit.loads:
        loads = tuple(replace(each, kind=BURNT) if each is load else each
                      for each in circuit.loads)
        yield Fault(FaultKind.BURNT, f"`{load.name}` burnt out", load.place,
                    replace(circuit, edit_of=circuit, loads=loads))


def _with(circuit: Circuit, *new: Conductor, out: Conductor | None = None) -> Circuit:
    kept = (c for c in circuit.conductors if c is not out)
    return replace(circuit, edit_of=circuit, conductors=(*kept, *new))


def _open(conductor: Conductor, lacking: Circuit) -> Fault:
    core = conductor.kind == "core"
    return Fault(FaultKind.OPEN if core else FaultKind.MISSING,
                 f"{conductor.kind} `{conductor.name}` {'open' if core else 'out'}",
                 conductor.place, lacking)


def _moved(circuit: Circuit, conductor: Conductor, lacking: Circuit,
           beside: Mapping[str, list[str]]) -> Iterator[Fault]:
    """Yield the conductor with either end one terminal too far, where a person lands it."""
    for right, other in ((conductor.a, conductor.b), (conductor.b, conductor.a)):
        for wrong in beside.get(right, ()):
            if wrong != other and not circuit.terminal[right].fixed:
                yield Fault(FaultKind.NEIGHBOUR,
                            f"{conductor.kind} `{conductor.name}` on `{wrong}`, not `{right}`",
                            conductor.place, _with(lacking, _relanded(conductor, right, wrong)))


def _relanded(conductor: Conductor, old: str, new: str) -> Conductor:
    """Return a conductor with the end that was on `old` on `new`."""
    if conductor.a == old:
        return replace(conductor, a=new)
    return replace(conductor, b=new)


def _swapped(circuit: Circuit, one: Conductor, two: Conductor, lacking: Circuit
             ) -> Iterator[Fault]:
    """Yield two cores of one cable exchanged at one of its ends."""
    for at, to in product((one.a, one.b), (two.a, two.b)):
        ends = circuit.terminal[at], circuit.terminal[to]
        if at == to or ends[0].part != ends[1].part or ends[0].fixed or ends[1].fixed:
            continue
        yield Fault(FaultKind.SWAPPED,
                    f"cores `{one.name}` and `{two.name}` swapped at `{at}` and `{to}`", one.place,
                    _with(lacking, _relanded(one, at, to), _relanded(two, to, at), out=two))


def _bridged(circuit: Circuit, a: str, b: str) -> Fault:
    place = circuit.terminal[a].place
    return Fault(FaultKind.BRIDGED, f"`{a}` and `{b}` bridged", place,
                 _with(circuit, Conductor("bridge", a, b, "bridge", place)))


def _contact(circuit: Circuit, old: Contact, kind: FaultKind, new: Contact | None) -> Fault:
    contacts = (new if c is old else c for c in circuit.contacts)
    said = "never closes" if kind is FaultKind.DEAD else "never opens"
    return Fault(kind, f"contact `{old.name}` {said}", old.place,
                 replace(circuit, edit_of=circuit, contacts=tuple(c for c in contacts if c)))


def _stuck(circuit: Circuit, device: Device) -> Iterator[Fault]:
    variable = circuit.variables[device.variable]
    word = Word(variable.name)
    never, always = Both(word, Not(word)), Either(word, Not(word))
    for wish, said in ((never, variable.words[0]), (always, variable.words[1])):
        yield Fault(FaultKind.STUCK, f"`{variable.name}` stuck {said}", variable.place,
                    replace(circuit, edit_of=circuit, devices=_devices(circuit, device, wish)))


def _devices(circuit: Circuit, old: Device, wish: Wish) -> tuple[Device, ...]:
    return tuple(replace(d, wish=wish) if d is old else d for d in circuit.devices)


def _beside(circuit: Circuit) -> dict[str, list[str]]:
    """Return the terminals beside each."""
    beside: dict[str, list[str]] = {}
    for a, b in _neighbours(circuit):
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    return beside


def _neighbours(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """Return pairs of terminals that stand beside each other in one row of a part."""
    return tuple((a.name, b.name) for a, b in pairwise(circuit.terminals)
                 if (a.part, a.row) == (b.part, b.row) and not (a.fixed and b.fixed))
