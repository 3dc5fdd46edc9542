"""Steps of taking out and connecting, gathered by where one stands and which cable is in hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from generator.sitework.step import Step
from generator.sitework.work import Work


@dataclass(frozen=True)
class Visit:
    """What is done at one part to one cable, to the links, or to the part itself.

    `what` is the kind of cable; `gate` says that it parts the work from its supply, or joins it.
    """

    cable: str
    what: str
    ends: tuple[Step, ...]
    others: tuple[Step, ...]
    gate: bool

    @property
    def cautions(self) -> tuple[str, ...]:
        """What belongs to any of its steps, each once."""
        return tuple(dict.fromkeys(said for step in (*self.ends, *self.others)
                                   for said in step.caution))

    @property
    def looks(self) -> tuple[str, ...]:
        """What to look for at its ends, each once."""
        return tuple(dict.fromkeys(said for step in self.ends for said in step.look))


@dataclass(frozen=True)
class Stop:
    """A part at which one stands, and what is done there one after the other."""

    part: str
    called: str
    place: str
    tool: str
    visits: tuple[Visit, ...]


def stops(work: Work, steps: Iterable[Step], fitted: bool = False) -> tuple[Stop, ...]:
    """Return steps in their order, those together that follow one another at one part.

    Once it is being connected (`fitted`) a part is called as in the fitted system.
    """
    return tuple(_stop(work, part, tuple(group), fitted)
                 for part, group in groupby(steps, key=lambda step: step.part))


def _stop(work: Work, part: str, steps: tuple[Step, ...], fitted: bool) -> Stop:
    new = work.job.job.fitted.parts if fitted else {}
    mounted = new.get(part) or work.part(part)
    return Stop(part, mounted.called, mounted.placed.at, mounted.part.tool,
                tuple(_visits(work, steps)))


def _visits(work: Work, steps: tuple[Step, ...]) -> Iterator[Visit]:
    kinds = {cable.designation: cable.what for cable in work.changes.cables}

    def key(step: Step) -> tuple[str, bool]:
        return step.cable if step.cable in kinds else "", step.gate

    for (cable, gate), group in groupby(steps, key=key):
        both = tuple(group)
        yield Visit(cable, kinds.get(cable, ""), tuple(s for s in both if s.core),
                    tuple(s for s in both if not s.core), gate)
