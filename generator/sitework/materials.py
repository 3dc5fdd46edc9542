"""What to take along: parts, cable, links, sleeves, connectors, labels and notices."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from generator.circuit.elements import part_of
from generator.findings import listed
from generator.sitework.changes import CableChange, Changes, CoreChange, Fate
from generator.sitework.dead_stages import loose_live, work_notices
from generator.sitework.work import Work

SPARE = 1.1
"""10 % more cable than is measured; common practice, no source."""


@dataclass(frozen=True)
class Material:
    """One line of the list: how much, in pieces or in `unit`, of what, and what for.

    Nothing is counted where the author names it in words.
    """

    kind: str
    number: float
    what: str
    used_for: str = ""
    unit: str = ""

    @property
    def amount(self) -> str:
        """Number and unit as they are written."""
        return f"{self.number:g} {self.unit}".strip() if self.number else ""


def materials(work: Work) -> tuple[Material, ...]:
    """Return everything that the change needs and that is not on the wall yet."""
    changes = work.changes
    return (*_parts(changes), *_cables(work), *_links(changes), *_sleeves(work),
            *_connectors(work), *_labels(work), *_notices(work),
            *(Material("besides", 0, said) for said in work.job.job.conversion.take_with))


def materials_csv(lines: Iterable[Material]) -> str:
    """Return the list as CSV (RFC 4180) with a line of headings; numbers with a point."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(("kind", "number", "unit", "what", "used for"))
    for line in lines:
        number = f"{line.number:g}" if line.number else ""
        writer.writerow((line.kind, number, line.unit, line.what, line.used_for))
    return text.getvalue()


def _parts(changes: Changes) -> Iterator[Material]:
    for part in changes.parts:
        if part.fate is Fate.NEW:
            yield Material("part", 1, part.called, f"-{part.designation}, {part.place}")


def _cables(work: Work) -> Iterator[Material]:
    new: dict[str, list[CableChange]] = {}
    for cable in work.changes.cables:
        if cable.fate is Fate.NEW and not _comes_fitted(work, cable):
            new.setdefault(cable.what, []).append(cable)
    for what, cables in new.items():
        metres = ceil(sum(cable.length for cable in cables) * SPARE * 10) / 10
        yield Material("cable", metres, what, "for " + ", ".join(map(_needed, cables)), "m")


def _comes_fitted(work: Work, cable: CableChange) -> bool:
    """Return whether a cable is the flex that a head comes with."""
    terminal = work.place.circuit.terminal
    tails = {t for core in cable.cores for t in core.after or () if terminal[t].fixed}
    return any(part.fate is Fate.NEW and part.designation in {part_of(t) for t in tails}
               for part in work.changes.parts)


def _needed(cable: CableChange) -> str:
    landed = sum(1 for core in cable.cores if core.after)
    return f"-{cable.designation} ({landed} of {len(cable.cores)} cores)"


def _links(changes: Changes) -> Iterator[Material]:
    colours = Counter(link.colour for link in changes.links if link.fate is Fate.NEW)
    for colour, number in colours.items():
        yield Material("link", number, f"links {colour}", "between terminals")


def _sleeves(work: Work) -> Iterator[Material]:
    """Yield sleeves for cores that get one; a core that has it already keeps it."""
    colours = Counter(core.sleeve for core in work.changes.cores()
                      if core.sleeve and core.after and core.sleeve != _sleeved(work, core))
    for colour, number in colours.items():
        yield Material("sleeve", 2 * number, f"sleeves {colour}", "both ends of each core")


def _sleeved(work: Work, core: CoreChange) -> str:
    laid = work.job.job.found.cables.get(core.cable)
    before = {str(colour): c.sleeve for colour, c in laid.laid.cores.items()} if laid else {}
    return before.get(core.colour) or ""


def _connectors(work: Work) -> Iterator[Material]:
    """Cores that go out of use, both ends; new ones that do not come into use; ends that wait."""
    spare = sum(1 for core in work.changes.cores() if _made_safe(work, core))
    waiting = len(loose_live(work))
    uses = [said for said, number in (("both ends of each core made safe", spare),
                                      ("loose ends that wait for their terminal", waiting))
            if number]
    if uses:
        yield Material("connector", 2 * spare + waiting, "insulated connectors", "; ".join(uses))


def _made_safe(work: Work, core: CoreChange) -> bool:
    fresh = core.cable not in work.job.job.found.cables
    return core.fate is Fate.MADE_SAFE and (core.before is not None or fresh)


def _labels(work: Work) -> Iterator[Material]:
    job = work.job.job
    for notice in (n for n in job.fitted.system.notices if n not in job.found.system.notices):
        yield Material("label", 1, f"label: “{notice.text}”", notice.where or f"at -{notice.at}")
    for cable in work.changes.cables:
        if cable.fate is Fate.MADE_SAFE:
            yield Material("label", 2, f"label: “-{cable.designation}, {cable.what}: not in use”",
                           "both its ends")
    for each in loose_live(work):
        said = {s.name: s.says for s in work.place.circuit.supplies}
        by = listed((said[name] for name in each.supplies), "and").replace("`", "")
        yield Material("label", 1, f"label: “-{each.run.name}: live when {by} is on”",
                       "its loose end, until it is landed")


def _notices(work: Work) -> Iterator[Material]:
    for notice in work_notices(work):
        yield Material("notice", 1, f"notice: “{notice.text}”",
                       f"at -{notice.part}, while the work lasts")
