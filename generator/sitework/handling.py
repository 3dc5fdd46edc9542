"""What is done to the ends of cores and links: taken off their terminals, landed on others."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from generator.circuit.elements import part_of
from generator.sitework.ends import End, Run
from generator.sitework.gates import Gate
from generator.sitework.stages import Landed


@dataclass(frozen=True)
class Handling:
    """One end of a core, or of a link both, that comes off or goes on.

    A `gate` parts the work from its supply or joins it again; what is `lifted` comes back to the
    terminal it was on.
    """

    run: Run
    ends: tuple[End, ...]
    on: bool
    gate: bool = False
    lifted: bool = False

    @property
    def terminals(self) -> tuple[str, ...]:
        """The terminals it is about."""
        return tuple(end.after if self.on else end.before for end in self.ends)

    @property
    def part(self) -> str:
        """The part that is worked in; of a link, where its first end is."""
        return part_of(self.terminals[0])

    def done(self, landed: Landed) -> Landed:
        """Return where every end is afterwards."""
        if self.on:
            return {**landed, **{end.name: end.after for end in self.ends}}
        gone = {end.name for end in self.ends}
        return {name: terminal for name, terminal in landed.items() if name not in gone}


def taking_off(runs: Collection[Run], gates: Collection[Gate], lifted: Collection[Gate]
               ) -> Iterator[Handling]:
    """Yield every end that comes off; of a gate its own end first."""
    lift = {gate.run.name: gate.end for gate in lifted}
    chosen = {gate.run.name: gate.end for gate in gates}
    for run in runs:
        ends = [end for end in run.ends if end.before and not end.stays]
        extra = [lift[run.name]] if run.name in lift else []
        first = _first([*ends, *extra], chosen.get(run.name))
        for group in _groups(run, [*ends, *extra]):
            yield Handling(run, group, False, first in group, group[0] in extra)


def landing(runs: Collection[Run], gates: Collection[Gate], lifted: Collection[Gate]
            ) -> Iterator[Handling]:
    """Yield every end that is landed; of a gate its own end last."""
    lift = {gate.run.name: gate.end for gate in lifted}
    chosen = {gate.run.name: gate.end for gate in gates}
    for run in runs:
        ends = [end for end in run.ends if end.after and not end.stays]
        extra = [lift[run.name]] if run.name in lift else []
        last = _first([*ends, *extra], chosen.get(run.name))
        for group in _groups(run, [*ends, *extra]):
            yield Handling(run, group, True, last in group, group[0] in extra)


def _first(ends: list[End], wanted: End | None) -> End | None:
    """Return the end of a gate that parts or joins: its own if that is handled, else another."""
    if wanted is None or not ends:
        return None
    return wanted if wanted in ends else ends[0]


def _groups(run: Run, ends: list[End]) -> Iterator[tuple[End, ...]]:
    """Yield the ends one by one; both ends of a link are in one hand."""
    if not run.cable and ends:
        yield tuple(ends)
    else:
        yield from ((end,) for end in ends)
