"""What an ohmmeter finds joined while all is dead, with the thermostats turned either way."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import pairwise

from generator.circuit.flat import Circuit
from generator.circuit.reach import joined_numbers
from generator.circuit.tables import states
from generator.sitework.signs import Site

Groups = tuple[int, ...]
"""For each terminal in reach, the number of the group it is joined to."""


def dead_states(circuit: Circuit) -> tuple[int, ...]:
    """Return the states an ohmmeter is used in: all at rest, each thermostat turned both ways."""
    table = circuit.space.full
    for v, variable in enumerate(circuit.variables):
        if variable.kind != "temperature":
            table &= circuit.space.where(v, False)
    return tuple(states(table))


def joined_dead(circuit: Circuit, site: Site, dead: Iterable[int], out: Collection[str] = ()
                ) -> tuple[tuple[Groups, Groups], ...]:
    """Return what an ohmmeter finds joined in dead states: directly, and through loads as well.

    Neutral and earth of all supplies meet at the origin (common practice in the United Kingdom, no
    source), so a neutral pole that does not open shows against earth. The contacts of parts that
    are `out` join nothing.
    """
    wired, place = circuit.nets, circuit.nets.place
    for a, b in pairwise(pole for s in circuit.supplies for pole in (s.neutral, s.earth)):
        wired = wired.joined(place[a], place[b])
    reached = [wired.of[terminal] for terminal in site.metered]
    loads = [(wired.of[load.a], wired.of[load.b]) for load in circuit.loads if load.passes]
    found = []
    for state in dead:
        closed = [(wired.of[c.a], wired.of[c.b]) for c in circuit.contacts
                  if c.closed(state) and c.part not in out]
        direct = joined_numbers(wired.count, closed)
        through = joined_numbers(wired.count, [*closed, *loads])
        found.append((_numbered(direct, reached), _numbered(through, reached)))
    return tuple(found)


def _numbered(joined: list[int], reached: list[int]) -> Groups:
    number: dict[int, int] = {}
    return tuple(number.setdefault(joined[net], len(number)) for net in reached)
