"""Taking out and connecting, end by end, from the computed order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.circuit.elements import part_of
from generator.findings import listed
from generator.recipe.articles import Terminal
from generator.recipe.wall import Mounted
from generator.sitework.changes import Fate
from generator.sitework.competence import OPENED_BY, opener
from generator.sitework.dead_stages import Joining, LooseLive, joinings, loose_live
from generator.sitework.handling import Handling
from generator.sitework.isolation import drawn
from generator.sitework.order import Stage, bare_parts
from generator.sitework.reuse import left_without
from generator.sitework.step import Step
from generator.sitework.work import Work


def take_out_steps(work: Work) -> tuple[Step, ...]:
    """Return the steps by which cores, links, parts and cables come off, in order."""
    return tuple(_Steps(work, loose_live(work), joinings(work)).out())


def connect_steps(work: Work) -> tuple[Step, ...]:
    """Return the steps by which cores and links are landed, in order."""
    return tuple(_Steps(work, loose_live(work), joinings(work)).into())


@dataclass(frozen=True)
class _Steps:
    work: Work
    loose: tuple[LooseLive, ...]
    joins: tuple[Joining, ...]

    def out(self) -> Iterator[Step]:
        met: set[str] = set()
        gone = {part.designation: part for part in self.work.changes.parts
                if part.fate in (Fate.REMOVED, Fate.MADE_SAFE)}
        for stage in self.work.order.off:
            if not self._comes_fitted(stage.handling):
                yield self._off(stage, self._warned(stage.handling, met))
            for name in sorted(bare_parts(stage) & gone.keys()):
                yield self._part_off(name, gone.pop(name).how)
            yield from self._cable_off(stage)
        yield from (self._part_off(name, part.how) for name, part in gone.items())

    def into(self) -> Iterator[Step]:
        met: set[str] = set()
        for stage in self.work.order.on:
            if not self._comes_fitted(stage.handling):
                yield self._on(stage, self._warned(stage.handling, met), met)

    def _off(self, stage: Stage, warned: tuple[str, ...]) -> Step:
        handling, run = stage.handling, stage.handling.run
        look = []
        if handling.lifted:
            look.append("It stays: it comes back to this terminal, last.")
        elif run.fate is Fate.MADE_SAFE and run.how:
            look.append(f"Then made safe: {run.how}.")
        elif run.how:
            look.append(run.how)
        return self._step(
            handling, f"Take {_named(handling)} off {_at(handling)}", tuple(look),
            (*warned, *self._cost(handling), *self._hanging(stage)), start=_at(handling))

    def _cost(self, handling: Handling) -> Iterator[str]:
        """Yield what loses its supply, where a core of the line that fed it comes off."""
        left = left_without(self.work.job, self.work.changes).get(handling.run.cable)
        if handling.gate and left:
            yield f"Without supply from now on: {', '.join(left)}."

    def _hanging(self, stage: Stage) -> Iterator[str]:
        for each in self.loose:
            if each.run is stage.handling.run and each.end in stage.handling.ends:
                yield ("Insulate its end in a connector at once and label it: it would be live if "
                       f"{_supplies(self.work, each.supplies)} came back.")

    def _part_off(self, name: str, how: str) -> Step:
        part = self.work.part(name)
        found = self.work.job.found
        feeds = [s for s in found.circuit.supplies if s.part == name and not drawn(found, s)]
        caution = tuple(
            f"The circuit of {supply.says} is disconnected at the consumer unit, and its cable "
            "made safe, by a competent electrician, before this part comes off."
            for supply in feeds)
        return Step(f"Take out -{name} {part.called}", part.placed.at, name, tool=part.part.tool,
                    look=(how,) if how else (), caution=caution)

    def _cable_off(self, stage: Stage) -> Iterator[Step]:
        """Yield that a cable is made safe in a box, or drawn out, once its last core is off."""
        name = stage.handling.run.cable
        cable = next((c for c in self.work.changes.cables if c.designation == name), None)
        on = [part_of(stage.landed[end.name]) for run in self.work.place.runs
              if run.cable == name for end in run.ends if end.name in stage.landed]
        part = self.work.part(stage.handling.part)
        look = (cable.how,) if cable and cable.how else ()
        if name and cable and cable.fate is Fate.MADE_SAFE and part.designation not in on:
            yield Step(f"Make safe and label this end of -{name} {cable.what}",
                       part.placed.at, part.designation, name, look=() if on else look)
        if name and cable and cable.fate is Fate.REMOVED and not on:
            yield Step(f"Draw out -{name} {cable.what}", part.placed.at, part.designation, name,
                       look=look)

    def _on(self, stage: Stage, warned: tuple[str, ...], met: set[str]) -> Step:
        handling, run = stage.handling, stage.handling.run
        look = [*self._sharing(stage)]
        if run.sleeve:
            look.append(f"{run.sleeve} sleeve on before it is landed, at both ends.")
        joins = [join for join in self.joins if join.run is run and stage.fresh]
        caution = [*warned, *self._taken_over(handling, met), *map(self._joined, joins)]
        came = "" if handling.lifted else " and ".join(
            f"-{end.before}" for end in handling.ends if end.before)
        return self._step(handling, f"Land {_named(handling)} on {_at(handling)}", tuple(look),
                          tuple(caution), start=came, end=_at(handling))

    def _taken_over(self, handling: Handling, met: set[str]) -> Iterator[str]:
        """Yield what is seen to before a cable from another circuit is landed at all."""
        cable = handling.run.cable
        if handling.run.fate is Fate.REUSED and cable not in met:
            met.add(cable)
            yield (f"-{cable} was used for something else: only when both its old ends are off, "
                   "0 V to earth at both, no core joined to another, its insulation tested.")

    def _joined(self, join: Joining) -> str:
        parts = listed((f"-{name}" for name in join.parts), "and").replace("`", "")
        return ("Supply side: land this only when every core above is landed and checked. Prove "
                f"this end dead once more first. From here on {parts} could be live from "
                f"{_supplies(self.work, join.supplies)}.")

    def _sharing(self, stage: Stage) -> Iterator[str]:
        held = list(stage.landed.values())
        for name in stage.handling.terminals:
            if held.count(name) > 1:
                yield (f"-{name} then holds {held.count(name)} of at most "
                       f"{self._terminal(name).takes}.")

    def _warned(self, handling: Handling, met: set[str]) -> tuple[str, ...]:
        """Return what is to be said when a part is met for the first time in a phase."""
        part, box = self.work.part(handling.part), self.work.outermost(handling.part)
        if box in met:
            return ()
        met.add(box)
        who = OPENED_BY.get(opener(part, self.work.job.job.fitted))
        said = [who] if who else []
        plugs = [s.line for wall in (self.work.job.found, self.work.job.fitted)
                 for s in wall.circuit.supplies if drawn(wall, s)]
        lines = [s.line for s in self.work.place.circuit.supplies
                 if s.part == handling.part and s.line not in plugs]
        said += [f"-{line} stays live unless its circuit is off at the consumer unit."
                 for line in lines]
        return tuple(said)

    def _step(self, handling: Handling, does: str, look: tuple[str, ...],
              caution: tuple[str, ...], start: str = "", end: str = "") -> Step:
        run, part = handling.run, self.work.part(handling.part)
        stated = [self._terminal(name) for name in handling.terminals]
        other = run.other(handling.ends[0]) if len(handling.ends) == 1 else None
        return Step(
            does, part.placed.at, handling.part, run.cable or run.name, run.colour,
            run.sleeve if handling.on else "", run.does if handling.on else run.did, start, end,
            _other(handling, other.after if handling.on else other.before) if other else "",
            part.part.tool,
            next((t.tightens_to for t in stated if t.tightens_to and handling.on), 0.0),
            next((t.strips for t in stated if t.strips and handling.on), 0.0),
            look, caution, handling.gate)

    def _comes_fitted(self, handling: Handling) -> bool:
        """Return whether an end sits in a head that comes with its flex: nobody opens it."""
        return not handling.gate and all(self._terminal(t).tail for t in handling.terminals)

    def _terminal(self, name: str) -> Terminal:
        part: Mounted = self.work.part(part_of(name))
        return part.part.terminals[name.partition(":")[2]]


def _other(handling: Handling, terminal: str) -> str:
    return f"-{terminal}" if terminal else ""


def _named(handling: Handling) -> str:
    run = handling.run
    return f"{run.colour} of -{run.cable}" if run.cable else f"the link {run.name} ({run.colour})"


def _at(handling: Handling) -> str:
    return " and ".join(f"-{terminal}" for terminal in handling.terminals)


def _supplies(work: Work, names: tuple[str, ...]) -> str:
    said = {supply.name: supply.says for supply in work.place.circuit.supplies}
    return listed((said[name] for name in names), "or").replace("`", "")
