"""In which order ends come off and go on, so that nothing within reach is live unknown.

Gates come off first. While they are all off nothing beyond them can be live, so that the rest may
follow the way through the house; and they go on last, when no end hangs loose any more. A step that
is not safe where it stands is put off until it is; what is never safe is said to be so. That finds
a safe order wherever there is one: to take a line off only ever makes less live, and whether a gate
may go on before another depends on these two alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.circuit.elements import part_of
from generator.sitework.gates import Gate, gates
from generator.sitework.handling import Handling, landing, taking_off
from generator.sitework.stages import Landed, Live, Workplace, everything, live_at

Places = dict[str, str]
"""By part: where it is."""


@dataclass(frozen=True)
class Stage:
    """A handling with what could be live in reach before and after, if a supply came back.

    `fresh` became live by it and was not known to be; it is `unknown` unless a gate announces it.
    `after` tells it by supply.
    """

    handling: Handling
    before: frozenset[str]
    after: Live
    fresh: frozenset[str]
    unknown: frozenset[str]
    landed: Landed


@dataclass(frozen=True)
class Order:
    """The whole way from the found to the fitted system, end by end."""

    found: Landed
    live: Live
    off: tuple[Stage, ...]
    on: tuple[Stage, ...]
    lifted: tuple[Gate, ...]

    @property
    def stages(self) -> tuple[Stage, ...]:
        """Every stage, in order."""
        return (*self.off, *self.on)

    @property
    def unknown(self) -> tuple[Stage, ...]:
        """The stages that no order makes safe."""
        return tuple(stage for stage in self.stages if stage.unknown)


def order(place: Workplace, at: Places, fixed: Sequence[str] = ()) -> Order:
    """Return a safe order if there is one, with the fewest cores lifted that would stay on.

    `fixed` are the places where something is fixed on the wall between taking out and connecting.
    """
    off, on = gates(place, place.found), gates(place, place.fitted)
    staying = {gate.run.name: gate for gate in (*on, *off)
               if all(end.stays for end in gate.run.ends)}
    lifted, walk = list(staying.values()), _Walk(place, at, tuple(fixed))
    best = _ordered(walk, off, on, ())
    if not best.unknown or not lifted:
        return best
    best = _ordered(walk, off, on, lifted)
    for gate in tuple(lifted) if not best.unknown else ():
        fewer = _ordered(walk, off, on, [each for each in lifted if each is not gate])
        if not fewer.unknown:
            lifted.remove(gate)
            best = fewer
    return best


def _ordered(walk: _Walk, off: Sequence[Gate], on: Sequence[Gate], lifted: Sequence[Gate]
             ) -> Order:
    place = walk.place
    out = walk.sequence(place.found, walk.outward(list(taking_off(place.runs, off, lifted))))
    bare = out[-1].landed if out else place.found
    here = walk.at[out[-1].handling.part] if out else ""
    back = walk.inward(list(landing(place.runs, on, lifted)), here)
    return Order(place.found, live_at(place, place.found), out, walk.sequence(bare, back),
                 tuple(lifted))


@dataclass(frozen=True)
class _Walk:
    place: Workplace
    at: Places
    fixed: tuple[str, ...]

    def outward(self, handlings: list[Handling]) -> list[Handling]:
        """Gates first; then place by place, box by box, lines first and earth last."""
        gated = [self.at[h.part] for h in handlings if h.gate]
        every = dict.fromkeys([*gated[-1:], *self._all(handlings)])
        return sorted(handlings, key=self._key(handlings, list(every), -1))

    def inward(self, handlings: list[Handling], here: str) -> list[Handling]:
        """Where one stands first, where the gates are last; earth first, gates after all else.

        Where something is fixed in between, one stands afterwards where that is done last.
        """
        last = dict.fromkeys(self.at[h.part] for h in handlings if h.gate)
        used = [p for p in self._all(handlings) if p not in last]
        stands = [p for p in self.fixed if p in used and p != here][:1] or [here]
        others = [p for p in dict.fromkeys([*stands, *used]) if p in used]
        return sorted(handlings, key=self._key(handlings, [*others, *last], 1))

    def _all(self, handlings: Iterable[Handling]) -> list[str]:
        used = {h.part for h in handlings}
        return [place for part, place in self.at.items() if part in used]

    def _key(self, handlings: list[Handling], places: list[str], way: int
             ) -> Callable[[Handling], tuple[int, ...]]:
        """A cable with a gate comes first on the way out and last on the way in; links inside."""
        parts, gated = list(self.at), {h.run.cable for h in handlings if h.gate}
        boxes = {h.part for h in handlings if h.gate}
        cables = list(dict.fromkeys(h.run.cable for h in handlings))

        def key(h: Handling) -> tuple[int, ...]:
            # The gates run the other way, to meet the rest where that begins or ends.
            turn = -1 if h.gate else 1
            return (way * h.gate, turn * places.index(self.at[h.part]), way * (h.part in boxes),
                    parts.index(h.part), way * (h.run.cable in gated),
                    -way * (not h.run.cable), cables.index(h.run.cable), way * h.run.turn)

        return key

    def sequence(self, landed: Landed, handlings: list[Handling]) -> tuple[Stage, ...]:
        """Return the stages, each the first of those left that is safe, or just the first."""
        return tuple(self._stages(landed, handlings))

    def _stages(self, landed: Landed, left: list[Handling]) -> Iterator[Stage]:
        live = live_at(self.place, landed)
        while left:
            tried = (self._stage(h, landed, live) for h in left if not _early(h, left))
            stage = next((s for s in tried if not s.unknown), None) \
                or self._stage(left[0], landed, live)
            left = [h for h in left if h is not stage.handling]
            landed, live = stage.landed, stage.after
            yield stage

    def _stage(self, handling: Handling, landed: Landed, live: Live) -> Stage:
        after = handling.done(landed)
        now, then = everything(live), live_at(self.place, after)
        hanging = {end.name for end, terminal in zip(
            handling.ends, handling.terminals, strict=True)
            if not handling.on and terminal in now}
        fresh = (everything(then) - now - hanging) & self.place.reach
        loose = {end.name for run in self.place.runs for end in run.ends}
        unknown = fresh & loose if handling.gate and handling.on else fresh
        return Stage(handling, now & self.place.reach, then, fresh, unknown, after)


def _early(handling: Handling, left: Sequence[Handling]) -> bool:
    """Return whether something must be done before: a gate goes on when all else is on, and in a
    box the earth of a cable is the last core off and the first on.
    """
    if handling.on and handling.gate and any(not h.gate for h in left):
        return True
    together = [h for h in left if h.run.cable == handling.run.cable and h.part == handling.part
                and h is not handling]
    if handling.on:
        return handling.run.turn > 0 and any(h.run.turn == 0 for h in together)
    return handling.run.turn == 0 and any(h.run.turn > 0 for h in together)


def bare_parts(stage: Stage) -> frozenset[str]:
    """Return the parts on which no core is left after a stage."""
    return frozenset(part_of(t) for t in stage.handling.terminals) - {
        part_of(terminal) for terminal in stage.landed.values()}
