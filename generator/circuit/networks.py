"""A circuit cut at its supplies: the networks that current passes, and which states have which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from generator.circuit.flat import Circuit
from generator.circuit.nodal import VOLTS
from generator.circuit.path import Element, conducting
from generator.circuit.potentials import Potentials
from generator.circuit.tables import Table, first

Network = tuple[Element, ...]
"""Elements that current passes, joined to one another other than through a supply."""


def networks(potentials: Potentials, states: Table) -> dict[Network, Table]:
    """Return each different network with the states that have it."""
    circuit, found = potentials.circuit, dict[Network, Table]()
    for group in _alike(potentials, states & ~potentials.shorted):
        for network in networks_in(circuit, first(group)):
            found[network] = found.get(network, 0) | group
    return found


def networks_in(circuit: Circuit, state: int | None) -> tuple[Network, ...]:
    """Return the networks of one state; with no state, every contact is closed."""
    held = held_volts(circuit)
    elements = list(conducting(circuit, state, through_loads=True))
    return tuple(_separate(_carrying(elements, held), held))


def held_volts(circuit: Circuit) -> dict[str, float]:
    """Return the volts of every terminal where a supply comes in."""
    return {terminal: volts for supply in circuit.supplies for terminal, volts in (
        (supply.line, VOLTS), (supply.neutral, 0.0), (supply.earth, 0.0))}


def _alike(potentials: Potentials, states: Table) -> Iterator[Table]:
    """Yield groups of states in which the same contacts are closed, of those that matter.

    One that leads nowhere does not, nor one between terminals that nothing drives.
    """
    groups = [states] if states else []
    leading = {each for network in networks_in(potentials.circuit, None) for each in network}
    for contact in (c for c in potentials.circuit.contacts if c in leading):
        net = potentials.nets.of[contact.a]
        driven = (potentials.line.get(net, 0) | potentials.neutral.get(net, 0)
                  | potentials.soft_line.get(net, 0) | potentials.soft_neutral.get(net, 0))
        closed = potentials.closed(contact) & driven
        groups = [part for group in groups for part in (group & closed, group & ~closed) if part]
    yield from groups


def _carrying(elements: Sequence[Element], held: Mapping[str, float]) -> list[Element]:
    """Return the elements that lead on at both ends, dead ends taken off one after the other."""
    landed: dict[str, set[int]] = {}
    for i, each in enumerate(elements):
        landed.setdefault(each.a, set()).add(i)
        landed.setdefault(each.b, set()).add(i)
    queue = [t for t, there in landed.items() if len(there) == 1 and t not in held]
    gone = set[int]()
    while queue:
        for i in landed[queue.pop()] - gone:
            gone.add(i)
            for end in (elements[i].a, elements[i].b):
                landed[end].discard(i)
                if len(landed[end]) == 1 and end not in held:
                    queue.append(end)
    return [each for i, each in enumerate(elements) if i not in gone]


def _separate(elements: Iterable[Element], held: Mapping[str, float]) -> Iterator[Network]:
    """Yield the elements by network; those that touch one voltage only carry nothing."""
    root: dict[str, str] = {}

    def top(terminal: str) -> str:
        while (above := root.setdefault(terminal, terminal)) != terminal:
            terminal = above
        return terminal

    elements = list(elements)
    for each in elements:
        if each.a not in held and each.b not in held:
            root[top(each.a)] = top(each.b)
    groups: dict[object, list[Element]] = {}
    for each in elements:
        free = next((t for t in (each.a, each.b) if t not in held), None)
        groups.setdefault(each if free is None else top(free), []).append(each)
    for group in groups.values():
        if len({held[t] for each in group for t in (each.a, each.b) if t in held}) > 1:
            yield tuple(group)
