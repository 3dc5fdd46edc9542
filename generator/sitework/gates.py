"""The cores over which a supply comes to the work: first off, last on."""

from __future__ import annotations

from dataclasses import dataclass

from generator.sitework.ends import End, Run
from generator.sitework.stages import Landed, Workplace, everything, live_at


@dataclass(frozen=True)
class Gate:
    """A core between a supply and the work, and the end of it that can be taken off.

    `bare` says that this end is the far one: taken off, it would be live with its supply.
    """

    run: Run
    end: End
    bare: bool


def gates(place: Workplace, landed: Landed) -> tuple[Gate, ...]:
    """Return the nearest cores to every supply that can be taken off, those of a line only.

    With all of them off, whatever lies beyond is dead, whichever supply comes back.
    """
    live = everything(live_at(place, landed))
    within = [run for run in place.runs if _ends_in_reach(place, run, landed)
              and any(landed.get(end.name) in live for end in run.ends)]
    fed = everything(live_at(place, landed, [run.name for run in within]))
    return tuple(_gate(place, run, landed, fed) for run in within
                 if any(landed.get(end.name) in fed for end in run.ends))


def _ends_in_reach(place: Workplace, run: Run, landed: Landed) -> list[End]:
    return [end for end in run.ends if landed.get(end.name) in place.reach]


def _gate(place: Workplace, run: Run, landed: Landed, fed: frozenset[str]) -> Gate:
    """The near end comes off where its box is open: then no end hangs live."""
    near = [end for end in _ends_in_reach(place, run, landed) if landed[end.name] in fed]
    if near:
        return Gate(run, near[0], bare=False)
    return Gate(run, _ends_in_reach(place, run, landed)[0], bare=True)
