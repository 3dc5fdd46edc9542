"""Loads that an ohmmeter takes for a joint or nearly: a heating element, the winding of a motor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.elements import Load
from generator.circuit.nodal import VOLTS
from generator.circuit.reach import joined_numbers
from generator.sitework.electronics import HEAVY

HEAVY_MOTOR = 50.0
"""Watts; the two ends of a motor of more are never read as something apart: 1060 ohm by its power,
of which its winding shows a fraction. A judgement, no source."""


@dataclass(frozen=True)
class HeavyPair:
    """Two terminals in reach with loads of low resistance between them, and what that reads."""

    a: str
    b: str
    reads: str


def heavy_pairs(subject: Subject, terminals: Iterable[str], states: Iterable[int]
                ) -> tuple[HeavyPair, ...]:
    """Return where such loads lie in any of these states, their contacts closed at rest."""
    terminals, found = tuple(terminals), dict[tuple[str, str], dict[Load, None]]()
    for state in states:
        for load, pair in _between(subject, terminals, state):
            found.setdefault(pair, {})[load] = None
    return tuple(HeavyPair(a, b, _reads(subject, tuple(loads)))
                 for (a, b), loads in found.items())


def _between(subject: Subject, terminals: tuple[str, ...], state: int
             ) -> Iterator[tuple[Load, tuple[str, str]]]:
    of, circuit = subject.potentials.nets.of, subject.circuit
    closed = [(of[c.a], of[c.b]) for c in circuit.contacts if c.closed(state)]
    joined = joined_numbers(subject.potentials.nets.count, closed)
    speaks = {joined[of[t]]: t for t in reversed(terminals)}
    for load in circuit.loads:
        a, b = (speaks.get(joined[of[end]], "") for end in (load.a, load.b))
        if load.passes and load.linear and a and b and a != b and _most(load) > (
                HEAVY if load.kind == "element" else HEAVY_MOTOR):
            yield load, (a, b)


def _most(load: Load) -> float:
    return load.up_to or load.watts


def _reads(subject: Subject, loads: tuple[Load, ...]) -> str:
    """Return what a meter shows, by what the loads take at 230 V."""
    named = " and ".join(f"{load.says} of -{load.part}" for load in loads)
    ohms = VOLTS**2 / sum(map(_most, loads))
    if all(load.kind == "element" and not load.up_to for load in loads):
        return (f"{named}, about {ohms:.0f} Ω; near 0 is a bridge, open a dial or cut-out that is "
                "open, or a dead element")
    takes = "together they take" if len(loads) > 1 else "it takes"
    return (f"{named}, less than {ohms:.0f} Ω if {takes} {sum(map(_most, loads)):g} W, more if "
            "less; near 0 is a bridge")
