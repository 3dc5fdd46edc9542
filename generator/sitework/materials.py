"""What to take along: parts, cable by type and length, sleeving, connectors, labels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from generator.recipe.wall import Job
from generator.sitework.changes import Changes, Fate

SPARE = 1.1
"""10 % more cable than is measured; common practice, no source."""


@dataclass(frozen=True)
class Material:
    """One line of the list: how much, of what, and what for."""

    amount: str
    what: str
    used_for: str = ""


def materials(job: Job, changes: Changes) -> tuple[Material, ...]:
    """Return everything that the change needs and that is not on the wall yet."""
    return (*_parts(changes), *_cables(changes), *_links(changes), *_sleeves(changes),
            *_connectors(job), *_labels(job))


def _parts(changes: Changes) -> Iterator[Material]:
    for part in changes.parts:
        if part.fate is Fate.NEW:
            yield Material("1", part.called, f"-{part.designation}, {part.place}")


def _cables(changes: Changes) -> Iterator[Material]:
    metres: dict[str, float] = {}
    names: dict[str, list[str]] = {}
    for cable in changes.cables:
        if cable.fate is Fate.NEW:
            metres[cable.what] = metres.get(cable.what, 0.0) + cable.length
            names.setdefault(cable.what, []).append(cable.designation)
    for what, length in metres.items():
        yield Material(f"{ceil(length * SPARE * 10) / 10:g} m", what,
                       "for " + ", ".join(f"-{name}" for name in names[what]))


def _links(changes: Changes) -> Iterator[Material]:
    colours = Counter(link.colour for link in changes.links if link.fate is Fate.NEW)
    for colour, number in colours.items():
        yield Material(str(number), f"links {colour}", "between terminals")


def _sleeves(changes: Changes) -> Iterator[Material]:
    colours = Counter(core.sleeve for core in changes.cores() if core.sleeve and core.after)
    for colour, number in colours.items():
        yield Material(str(2 * number), f"sleeves {colour}", "both ends of each core")


def _connectors(job: Job) -> Iterator[Material]:
    fitted = (core for cable in job.fitted.system.cables.values() for core in cable.cores.values())
    spare = sum(1 for core in fitted if core.made_safe)
    gone = sum(len(cable.laid.cores) for name, cable in job.found.cables.items()
               if name in job.conversion.goes and job.conversion.goes[name].fate == "made safe")
    if spare + gone:
        yield Material(str(2 * (spare + gone)), "insulated connectors",
                       "both ends of each core made safe")


def _labels(job: Job) -> Iterator[Material]:
    for notice in job.fitted.system.notices:
        yield Material("1", f"label: “{notice.text}”", notice.where or f"at -{notice.at}")
