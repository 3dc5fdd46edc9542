"""Who may do which part of the work; local codes and licensed practice come first."""

from __future__ import annotations

from dataclasses import dataclass

from generator.checks.zoned import UNVENTED, VENTED
from generator.recipe.wall import Job, Mounted, Wall


@dataclass(frozen=True)
class Competence:
    """A kind of work, who may do it, where it occurs here, and what that rests on."""

    work: str
    who: str
    parts: tuple[str, ...]
    source: str


_ELECTRICAL = (
    "Wiring and testing",
    "A person with the knowledge and experience for electrical work, or under the eye of one. Work "
    "dead; testing live only as a test, never to alter anything.",
    "Electricity at Work Regulations 1989, regulations 13, 14 and 16 (13 and 16 from memory); "
    "BS 7671; Approved Document P (2013) for England 2.5 and 2.7: a new circuit, a new consumer "
    "unit and any alteration in a room with a bath or shower are notifiable",
)
_GAS = (
    "Anything behind a boiler case that is part of its combustion seal",
    "Only a business and person on the gas register, with the right category of work. The control "
    "terminals are reached without breaking that seal, or this work is left to them.",
    "Gas Safety (Installation and Use) Regulations 1998, regulation 3; common practice for the "
    "connection box",
)
_OIL = (
    "Burner, oil line, flue and the inside of an oil boiler",
    "Only a person competent for oil firing. A new or changed oil appliance is notifiable. What is "
    "behind the burner's cover is left to them; wiring the controls is not.",
    "Approved Document J, from memory; common practice for the wiring",
)
_UNVENTED = (
    "Thermostat, cut-out and heater head of an unvented cylinder",
    "Only a person competent for unvented hot water. Installing such a system is notifiable.",
    "Approved Document G (2015 edition with 2016 amendments) 3.40 to 3.42",
)
_SAID = {"electrical": _ELECTRICAL, "gas": _GAS, "oil": _OIL, "unvented": _UNVENTED}


def competences(job: Job) -> tuple[Competence, ...]:
    """Return who may do what in a conversion, with the parts that each is about."""
    parts = {**job.found.parts, **job.fitted.parts}
    found = []
    for kind, (work, who, source) in _SAID.items():
        about = tuple(f"-{p.designation} {p.called}" for p in parts.values()
                      if opener(p, job.fitted) == kind)
        if about:
            found.append(Competence(work, who, about, source))
    return tuple(found)


OPENED_BY = {
    "gas": "Opened only by a person on the gas register, unless the connection box lies outside "
           "the combustion seal.",
    "oil": "Opened only by a person competent for oil firing, unless the connection box lies "
           "outside the burner's cover.",
    "unvented": "Opened only by a person competent for unvented hot water.",
}
"""Who opens what not every engineer may, by `opener`."""
FITTED_BY = {
    "gas": "Hung, piped and flued only by a person on the gas register.",
    "oil": "Set up, piped and flued only by a person competent for oil firing.",
    "unvented": "Fitted only by a person competent for unvented hot water.",
}
"""Who fixes it where it is new, by `opener`."""


def opener(part: Mounted, fitted: Wall) -> str:
    """Return whose work it is to open a part; on a vented cylinder its thermostat is electrical.

    Only where the fitted system says that it stores in a vented one: what is not said may not be.
    """
    kind = part.part.competence
    return "electrical" if kind == "unvented" and _stores_vented(fitted) else kind


def _stores_vented(wall: Wall) -> bool:
    stores = {zone.stores for zone in wall.system.zones.values()}
    return VENTED in stores and UNVENTED not in stores


def stores_unvented(wall: Wall) -> bool:
    """Return whether a system heats an unvented cylinder."""
    return any(zone.stores == UNVENTED for zone in wall.system.zones.values())
