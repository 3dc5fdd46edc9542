"""Wiring up, core by core, in an order in which nothing is half-made and live."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.circuit.flat import Circuit, Conductor, part_of
from generator.sitework.changes import Changes, CoreChange, Fate


@dataclass(frozen=True)
class WiringStep:
    """One core or link to land; `stays` names the end that is on its terminal already, if any."""

    cable: str
    colour: str
    sleeve: str
    start: str
    end: str
    does: str
    fate: Fate
    stays: str = ""


@dataclass(frozen=True)
class CableWork:
    """The steps of one cable (or the links), in the order in which they are done."""

    cable: str
    what: str
    fate: Fate
    steps: tuple[WiringStep, ...]
    supply_side: bool


def wiring_steps(changes: Changes, circuit: Circuit) -> tuple[CableWork, ...]:
    """Return the work cable by cable: links first, the supply's own cable last.

    Within a cable the protective conductor is landed first, then neutral, then lines; so a core
    that could be live if the supply came back early never lies loose beside a finished one.
    """
    works = [_links(changes), *_cables(changes, circuit)]
    worked = [work for work in works if work.steps]
    supplied = {supply.part for supply in circuit.supplies}
    ends = {work.cable: _parts(work) for work in worked}
    late = [work for work in worked if ends[work.cable] & supplied]
    return tuple([w for w in worked if w not in late] + [_last(w) for w in late])


def _last(work: CableWork) -> CableWork:
    return CableWork(work.cable, work.what, work.fate, work.steps, supply_side=True)


def _parts(work: CableWork) -> set[str]:
    return {part_of(end) for step in work.steps for end in (step.start, step.end)}


def _links(changes: Changes) -> CableWork:
    steps = tuple(_step(link) for link in changes.links if link.fate is Fate.NEW)
    return CableWork("", "links", Fate.NEW, steps, supply_side=False)


def _cables(changes: Changes, circuit: Circuit) -> Iterator[CableWork]:
    conductors = {c.name: c for c in circuit.conductors}
    for cable in changes.cables:
        landed = [c for c in cable.cores if c.after and c.fate is not Fate.STAYS]
        landed.sort(key=lambda core: _turn(conductors[f"{core.cable}.{core.colour}"]))
        yield CableWork(cable.designation, cable.what, cable.fate,
                        tuple(_step(core) for core in landed), supply_side=False)


def _turn(core: Conductor) -> int:
    if core.colour == "GNYE":
        return 0
    return 1 if (core.sleeve or core.colour) == "BU" else 2


def _step(core: CoreChange) -> WiringStep:
    assert core.after is not None
    stays = set(core.before or ()) & set(core.after)
    return WiringStep(core.cable, core.colour, core.sleeve, *core.after, core.does, core.fate,
                      next(iter(sorted(stays)), ""))
