"""From a solved system to the values its circuit drawing is made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.checks.subject import Subject
from generator.circuit.elements import Condition, Contact, Load, Supply
from generator.circuit.flat import Circuit
from generator.pages.circuit_nets import drawn_nets, net_key
from generator.pages.circuit_words import (
    LETTERS,
    ends,
    load_lines,
    load_words,
    look_of,
    resting,
    short_name,
    spare_words,
    works,
)
from generator.pages.drawings.circuit_layout import trees
from generator.pages.drawings.circuit_limbs import elements_of
from generator.pages.drawings.circuit_values import (
    CircuitSheet,
    Element,
    Feed,
    Look,
    Source,
)
from generator.pages.drawings.circuit_ways import ways
from generator.pages.wording import terminal


def circuit_sheet(subject: Subject, called: Mapping[str, str] | None = None) -> CircuitSheet:
    """Return a system as a circuit drawing; `called` says what people call each part."""
    circuit = subject.circuit
    names = called if called is not None else {
        part.designation: part.called for part in subject.wall.parts.values()}
    sources = tuple(_sources(circuit, subject, names))
    loads = tuple(load for load in circuit.loads if _drawn(subject, load))
    elements = (*_contacts(subject), *_loads(subject, loads, names),
                *_closed(subject, names))
    nets = drawn_nets(subject, sources)
    sheet = CircuitSheet("Circuit: what switches what", "", sources, elements, nets)
    return _described(subject, sheet, loads, names)


def _described(
    subject: Subject, sheet: CircuitSheet, loads: tuple[Load, ...], called: Mapping[str, str]
) -> CircuitSheet:
    """Return the sheet with its words, which say what could not be drawn."""
    found = trees(sheet)
    shown = {e.key for tree in found
             for group in (tree.trunk.above, tree.trunk.below) for e in group}
    shown |= {e.key for tree in found for fork in tree.forks for e in elements_of(fork)}
    volt_free = {tree.source.key for tree in found}
    missing = [x for x in subject.circuit.loads
               if f"load-{x.name}" not in shown and f"input-{x.name}" not in volt_free]
    drawn = {x.name for x in loads} - {x.name for x in missing}
    spare = [c for c in subject.circuit.contacts if f"contact-{c.name}" not in shown]
    undrawn = (
        *(load_words(subject, load, called) for load in missing),
        *spare_words(spare), *_unused(subject.circuit, {t.source.key for t in found}))
    words = (f"{len(drawn)} loads, each below what feeds it, line at the top and neutral at the "
             f"foot; drawn at rest, power off. {'; '.join(ways(found))}.")
    return CircuitSheet(sheet.title, words, sheet.sources, sheet.elements, sheet.nets, undrawn)


def _unused(circuit: Circuit, used: set[str]) -> Iterator[str]:
    for supply in circuit.supplies:
        if supply.name not in used:
            yield f"supply {supply.says or supply.name}: nothing runs from it"


def _drawn(subject: Subject, load: Load) -> bool:
    """Tell whether current may pass a load in a state that can come about.

    It may where one end is reached from line and the other from neutral, over other loads too;
    behind a closed part nobody can say.
    """
    if load.volt_free:
        return False
    potentials = subject.potentials
    line, zero = potentials.soft_line, potentials.soft_neutral
    carries = ((potentials.at(line, load.a) & potentials.at(zero, load.b))
               | (potentials.at(line, load.b) & potentials.at(zero, load.a)))
    unknown = potentials.not_known(load.a) | potentials.not_known(load.b)
    return bool((carries | unknown) & subject.reachable)


def _contacts(subject: Subject) -> Iterator[Element]:
    for contact in subject.circuit.contacts:
        yield _contact(subject, contact)


def _contact(subject: Subject, contact: Contact) -> Element:
    circuit = subject.circuit
    part = contact.name.partition(".")[0]
    lines = tuple(works(circuit, contact))
    state = "closed" if resting(contact.when) else "open"
    look = look_of(circuit, contact)
    said = f"{ends(contact)}: closed while {', '.join(lines)}; drawn {state}, at rest"
    if look is Look.FUSE:
        said = f"{ends(contact)}: {lines[0]}"
    return Element(
        f"contact-{contact.name}", look, terminal(part), lines,
        net_key(subject, contact.a), net_key(subject, contact.b), f"{terminal(part)} {said}",
        short_name(contact.a, part), short_name(contact.b, part),
        worked_by=_one_switch(circuit, contact.when))


def _one_switch(circuit: Circuit, when: Condition) -> str:
    return circuit.variables[when[0][0]].name if len(when) == 1 else ""


def _loads(
    subject: Subject, loads: tuple[Load, ...], called: Mapping[str, str]
) -> Iterator[Element]:
    for load in loads:
        part = load.name.partition(".")[0]
        lines = load_lines(subject.circuit, load, called)
        yield Element(
            f"load-{load.name}", Look.LOAD, terminal(part), lines,
            net_key(subject, load.a), net_key(subject, load.b),
            f"{terminal(part)} {', '.join(lines)}, {ends(load)}",
            short_name(load.a, part), short_name(load.b, part), LETTERS[load.kind])


def _closed(subject: Subject, called: Mapping[str, str]) -> Iterator[Element]:
    """Yield for each closed part that has line and neutral what it takes from the supply."""
    for group in subject.circuit.closed:
        poles = _poles(subject, group)
        part = group[0].partition(":")[0]
        if poles:
            a, b = poles
            lines = (*filter(None, (called.get(part, ""),)), "inside not known")
            yield Element(
                f"closed-{part}", Look.LOAD, terminal(part), lines, net_key(subject, a),
                net_key(subject, b), f"{terminal(part)} {', '.join(lines)}",
                short_name(a, part), short_name(b, part), "?")


def _poles(subject: Subject, group: tuple[str, ...]) -> tuple[str, str] | None:
    """Return the first line and the first neutral terminal of a closed part."""
    found = [next((t for t in group if subject.circuit.terminal[t].carries == carries), None)
             for carries in ("line", "neutral")]
    line, neutral = found
    if line is None or neutral is None or net_key(subject, line) == net_key(subject, neutral):
        return None
    return line, neutral


def _sources(
    circuit: Circuit, subject: Subject, called: Mapping[str, str]
) -> Iterator[Source]:
    taken: set[str] = set()
    for supply in circuit.supplies:
        yield _supply(subject, supply)
        taken |= {net_key(subject, t) for t in (supply.line, supply.neutral, supply.earth)}
    for group in circuit.closed:
        poles = {net_key(subject, t) for t in _poles(subject, group) or ()}
        nets = tuple(dict.fromkeys(
            net for t in group if (net := net_key(subject, t)) not in taken | poles))
        taken |= set(nets)
        part = group[0].partition(":")[0]
        title = f"{terminal(part)} {called.get(part, '')}: inside not known"
        if nets:
            yield Source(terminal(part), Feed.CLOSED, " ".join(title.split()), nets, nets,
                         f"back into {terminal(part)}")
    for load in circuit.loads:
        a, b = net_key(subject, load.a), net_key(subject, load.b)
        if load.volt_free and a != b and not {a, b} & taken:
            part = terminal(load.name.partition(".")[0])
            title = f"{part} {load.says or 'volt-free input'}: calls while joined"
            yield Source(f"input-{load.name}", Feed.VOLT_FREE, title, (a,), (b,),
                         f"back into {part}")
            taken |= {a, b}


def _supply(subject: Subject, supply: Supply) -> Source:
    return Source(supply.name, Feed.SUPPLY, supply.says or supply.name,
                  (net_key(subject, supply.line),), (net_key(subject, supply.neutral),))
