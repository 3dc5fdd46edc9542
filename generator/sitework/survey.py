"""What is looked at before quoting, worked out from what is found, what stays and what comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.circuit.elements import part_of
from generator.recipe.wall import Job, Wall
from generator.sitework.changes import CableChange, Changes, Fate


@dataclass(frozen=True)
class SurveyLine:
    """One thing to look at: what must be there, and what is done where it is not."""

    look: str
    needs: str
    otherwise: str


EARTHING = SurveyLine(
    "Main earthing and bonding of gas, water and oil pipes",
    "Seen, joined, sound (BS 7671 132.16, from memory)",
    "Quote for it first: no alteration goes on without it.")


def survey(job: Job, changes: Changes) -> tuple[SurveyLine, ...]:
    """Return what must be seen on site for a conversion to be done as it is written."""
    return (_supplies(job.found), EARTHING, *_parts(job, changes), *_cables(job, changes),
            *_room(job, changes))


def _supplies(found: Wall) -> SurveyLine:
    supplies = found.system.supplies.values()
    said = "; ".join(f"{supply.says}, at {_at(found, part_of(supply.line))}" for supply in supplies)
    return SurveyLine(
        "Every supply that reaches a box on this job", f"{len(supplies)} and no other: {said}",
        "Stop. What this page makes dead is only what is drawn.")


def _at(wall: Wall, designation: str) -> str:
    part = wall.parts[designation]
    fuse = f", fuse {part.placed.fuse:g} A" if part.placed.fuse else ""
    return f"-{designation} {part.called}, {part.placed.at}{fuse}"


def _parts(job: Job, changes: Changes) -> Iterator[SurveyLine]:
    for change in changes.parts:
        part = job.found.parts.get(change.designation)
        if part and change.fate is Fate.STAYS and part.part.looks:
            yield SurveyLine(
                f"-{part.designation} {part.called}, {part.placed.at}",
                f"{part.part.name}: {part.part.looks}",
                "Stop. It stays, and the page is for this kind alone.")


def _cables(job: Job, changes: Changes) -> Iterator[SurveyLine]:
    for cable in changes.cables:
        kept = job.fitted.cables.get(cable.designation)
        if kept and cable.fate is not Fate.NEW:
            used = [core.colour for core in cable.cores if core.after]
            now, then = _ends(job.found, cable, "before"), _ends(job.fitted, cable, "after")
            reach = "" if now == then else (
                f"; it reaches from {then}, {cable.length:g} m, without a joint")
            heat = ", heat resisting" if kept.cable.heat_resisting else ""
            yield SurveyLine(
                f"-{cable.designation}, {now}",
                f"{len(used)} whole cores, {', '.join(used)}, {kept.cable.area:g} mm²{heat}{reach}",
                "Lay a new cable that has them, and quote for it; else stop.")


def _ends(wall: Wall, cable: CableChange, when: Literal["before", "after"]) -> str:
    """Return the parts at which the cores of a cable land, each once."""
    landed = (end for core in cable.cores for end in getattr(core, when) or ())
    return " to ".join(f"-{name} {wall.parts[name].called}"
                       for name in dict.fromkeys(map(part_of, landed)))


def _room(job: Job, changes: Changes) -> Iterator[SurveyLine]:
    new = [job.fitted.parts[change.designation] for change in changes.parts
           if change.fate is Fate.NEW]
    for part in new:
        where = f"Where -{part.designation} {part.called} will be, {part.placed.at}"
        if part.part.joining:
            yield SurveyLine(
                where, "Radio signal to every thermostat it is joined to, doors shut; a home "
                "network only where the owner wants an account", "Find a place that hears them.")
        elif part.part.letter == "X":
            yield SurveyLine(where, f"Room for a {part.part.name} in a box with a lid",
                             "Find another place, and measure the cables to it.")
