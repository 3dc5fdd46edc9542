"""What becomes of every part, cable, core and link between the found and the fitted system."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from generator.circuit.elements import part_of
from generator.recipe.placed import Core
from generator.recipe.wall import Job, Laid, Mounted
from generator.recipe.words import Going
from generator.sitework.reasons import reasons

Ends = tuple[str, str]


class Fate(StrEnum):
    """What becomes of something on the wall."""

    STAYS = "stays"
    MOVES = "moves"
    REUSED = "taken over for something else"
    REMOVED = "removed"
    MADE_SAFE = "made safe"
    NEW = "new"


@dataclass(frozen=True)
class PartChange:
    """A part and what becomes of it."""

    designation: str
    called: str
    place: str
    fate: Fate
    how: str = ""
    why: str = ""
    """Why it cannot stay, where that follows from the two systems."""


@dataclass(frozen=True)
class CoreChange:
    """A core (or a link, named in `cable`) with the terminals at its ends before and after."""

    cable: str
    colour: str
    fate: Fate
    before: Ends | None
    after: Ends | None
    sleeve: str = ""
    does: str = ""
    did: str = ""
    how: str = ""


@dataclass(frozen=True)
class CableChange:
    """A cable, what becomes of it as a whole, and of each of its cores."""

    designation: str
    what: str
    length: float
    fate: Fate
    cores: tuple[CoreChange, ...]
    how: str = ""


@dataclass(frozen=True)
class Changes:
    """Everything that is found or fitted, with its fate."""

    parts: tuple[PartChange, ...]
    cables: tuple[CableChange, ...]
    links: tuple[CoreChange, ...]

    def cores(self) -> tuple[CoreChange, ...]:
        """Every core of every cable."""
        return tuple(core for cable in self.cables for core in cable.cores)


def changes(job: Job) -> Changes:
    """Return what becomes of everything in a conversion."""
    return Changes(tuple(_parts(job)), tuple(_cables(job)), tuple(_links(job)))


def _parts(job: Job) -> Iterator[PartChange]:
    why = reasons(job)
    for name, part in job.found.parts.items():
        kept = job.fitted.parts.get(name)
        fate, how = (Fate.STAYS, "") if kept else _gone(job, name)
        yield _part(kept or part, fate, how, why.get(name, ""))
    for name, part in job.fitted.parts.items():
        if name not in job.found.parts:
            yield _part(part, Fate.NEW)


def _part(part: Mounted, fate: Fate, how: str = "", why: str = "") -> PartChange:
    return PartChange(part.designation, part.called, part.placed.at, fate, how, why)


def _gone(job: Job, name: str) -> tuple[Fate, str]:
    going: Going | None = job.conversion.goes.get(name)
    if going is None:
        return Fate.REMOVED, ""
    return (Fate.REMOVED if going.fate == "removed" else Fate.MADE_SAFE), going.how


def _cables(job: Job) -> Iterator[CableChange]:
    for name, old in job.found.cables.items():
        new = job.fitted.cables.get(name)
        yield _kept_cable(job, old, new) if new else _gone_cable(job, old)
    for name, new in job.fitted.cables.items():
        if name not in job.found.cables:
            cores = tuple(_core(new, colour, None, core) for colour, core in new.laid.cores.items())
            yield CableChange(name, new.cable.name, new.laid.length, Fate.NEW, cores)


def _kept_cable(job: Job, old: Laid, new: Laid) -> CableChange:
    colours = dict.fromkeys([*old.laid.cores, *new.laid.cores])
    cores = tuple(_core(new, colour, old.laid.cores.get(colour), new.laid.cores.get(colour))
                  for colour in colours)
    fates = {core.fate for core in cores}
    whole = next((f for f in (Fate.REUSED, Fate.MOVES, Fate.NEW) if f in fates), Fate.STAYS)
    return CableChange(new.designation, new.cable.name, new.laid.length,
                       Fate.MOVES if whole is Fate.NEW else whole, cores)


def _gone_cable(job: Job, old: Laid) -> CableChange:
    fate, how = _gone(job, old.designation)
    cores = tuple(CoreChange(old.designation, colour, fate, _ends(core), None, did=core.does)
                  for colour, core in old.laid.cores.items())
    return CableChange(old.designation, old.cable.name, old.laid.length, fate, cores, how)


def _core(cable: Laid, colour: str, old: Core | None, new: Core | None) -> CoreChange:
    before, after = _ends(old), _ends(new)
    return CoreChange(
        cable.designation, colour, _core_fate(before, after), before, after,
        (new.sleeve or "") if new else "", new.does if new else "", old.does if old else "",
        (new.made_safe or "") if new else "")


def _core_fate(before: Ends | None, after: Ends | None) -> Fate:
    if after is None:
        return Fate.MADE_SAFE
    if before is None:
        return Fate.NEW
    if set(before) == set(after):
        return Fate.STAYS
    # A core that goes on leading to one of its parts still runs where it ran.
    return Fate.MOVES if _at(before) & _at(after) else Fate.REUSED


def _at(ends: Ends) -> set[str]:
    return set(map(part_of, ends))


def _ends(core: Core | None) -> Ends | None:
    return (core.from_, core.to) if core and core.from_ and core.to else None


def _links(job: Job) -> Iterator[CoreChange]:
    old_links, new_links = job.found.system.links, job.fitted.system.links
    for name, link in old_links.items():
        kept, before = new_links.get(name), (link.from_, link.to)
        after = (kept.from_, kept.to) if kept else None
        fate, how = (_core_fate(before, after), "") if kept else _gone(job, name)
        yield CoreChange(name, link.colour, fate, before, after,
                         does=kept.does if kept else link.does, did=link.does, how=how)
    for name, link in new_links.items():
        if name not in old_links:
            yield CoreChange(name, link.colour, Fate.NEW, None, (link.from_, link.to),
                             does=link.does)
