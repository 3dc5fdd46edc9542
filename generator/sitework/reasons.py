"""Why a part cannot stay: it speaks over data or sensor leads, and nothing fitted speaks to it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.circuit.elements import part_of
from generator.findings import listed
from generator.recipe.articles import Carries
from generator.recipe.wall import Job, Mounted, Wall


def reasons(job: Job) -> dict[str, str]:
    """Return by designation why each part that goes and speaks over thin leads cannot stay."""
    gone = [part for name, part in job.found.parts.items() if name not in job.fitted.parts]
    silent = {part.designation: _silent(job, part) for part in gone if _only_thin(part)}
    silent = {name: why for name, why in silent.items() if why}
    told = {part.designation: _told(job, part, silent) for part in gone if not _only_thin(part)}
    return silent | {name: why for name, why in told.items() if why}


def _silent(job: Job, part: Mounted) -> str:
    says = f"Only data or sensor terminals ({listed(_thin(part), 'and')}) and no contact"
    if not any(True for _ in _thin_ends(job.fitted)):
        return f"{says}; nothing fitted speaks over such a terminal."
    partners = _partners(job.found, part.designation)
    if partners and not any(name in job.fitted.parts for name in partners):
        return f"{says}; what it speaks to, {_named(partners)}, goes as well."
    return ""


def _told(job: Job, part: Mounted, silent: dict[str, str]) -> str:
    """A closed board does what others tell it; it is not known to do anything by itself."""
    callers = [name for name in _partners(job.found, part.designation) if name in silent]
    if not part.part.closed or not callers:
        return ""
    return (f"A board nobody knows inside, told what to do over data leads by {_named(callers)}; "
            "nothing fitted could tell it.")


def _only_thin(part: Mounted) -> bool:
    return len(_thin(part)) == len(part.part.terminals) and not part.part.contacts


def _thin(part: Mounted) -> list[str]:
    return [name for name, terminal in part.part.terminals.items()
            if terminal.carries is Carries.EXTRA_LOW_VOLTAGE]


def _partners(wall: Wall, designation: str) -> list[str]:
    """Return the parts at the other ends of the thin leads of a part."""
    return list(dict.fromkeys(
        part_of(other) for end, other in _thin_ends(wall) if part_of(end) == designation))


def _thin_ends(wall: Wall) -> Iterator[tuple[str, str]]:
    """Yield each end of a core on a data or sensor terminal, with its other end."""
    for cable in wall.cables.values():
        for core in cable.laid.cores.values():
            if core.from_ and core.to:
                yield from ((end, other) for end, other in
                            ((core.from_, core.to), (core.to, core.from_)) if _is_thin(wall, end))


def _is_thin(wall: Wall, terminal: str) -> bool:
    part = wall.parts[part_of(terminal)]
    return terminal.partition(":")[2] in _thin(part)


def _named(parts: list[str]) -> str:
    return listed((f"-{name}" for name in parts), "and")
