"""Complaints in plain words: what is seen to be wrong in a setting, and the faults that do it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial

from generator.checks.zoned import SHUT
from generator.circuit.elements import part_of
from generator.sitework.finder.ground import Case, Ground
from generator.sitework.finder.suspects import Course, Suspect
from generator.sitework.signs import Shown, Sign

TRIPPED = "the supply trips"

Outcome = tuple[Course, tuple[bool, ...]]
"""How a setting ends, and which of the signs of a ground are seen then."""


@dataclass(frozen=True)
class Complaint:
    """What is seen to be wrong, and the numbers of the suspects that do it, as bits.

    The same faults may show in several settings: `also` is how they look there. `trips` where the
    supply goes off. `astray` are valves that are open and should be shut; `hot` where one of them
    feeds what a cut-out guards.
    """

    words: str
    case: Case
    suspects: int
    trips: bool
    also: tuple[str, ...] = ()
    astray: tuple[str, ...] = ()
    hot: bool = False

    @property
    def off(self) -> bool:
        """Whether the supply stays off until the fault is found: nothing more is tried live."""
        return self.trips or self.hot


def complaints(ground: Ground, suspects: Sequence[Suspect]) -> tuple[Complaint, ...]:
    """Return every complaint that a single fault can give; what the same faults give is one.

    None where a closed part decides what runs: what its inside does is not known.
    """
    if any(ground.subject.landed(t) for group in ground.subject.circuit.closed for t in group):
        return ()
    merged: dict[tuple[int, bool, tuple[str, ...]], Complaint] = {}
    for case in ground.cases:
        for complaint in _of(ground, suspects, case):
            key = complaint.suspects, complaint.trips, complaint.astray
            same = merged.get(key)
            merged[key] = replace(same, also=(*same.also, complaint.words)) if same else complaint
    return tuple(merged.values())


def _of(ground: Ground, suspects: Sequence[Suspect], case: Case
        ) -> Iterator[Complaint]:
    right = sight_words(ground, case, outcome(ground, ground.healthy, Course.RESTS, case))
    found: dict[str, int] = {}
    last: dict[str, Outcome] = {}
    words = cache(partial(sight_words, ground, case))
    for number, suspect in enumerate(suspects):
        if suspect.idle:
            continue
        got = outcome(ground, suspect.signs, suspect.courses[case.setting], case)
        sight = words(got)
        found[sight], last[sight] = found.get(sight, 0) | 1 << number, got
    for sight, numbers in found.items():
        if sight != right:
            astray = tuple(_astray(ground, case, last[sight]))
            yield Complaint(f"{case.name}: {sight}", case, numbers, sight == TRIPPED,
                            astray=astray, hot=_guarded(ground, astray))


def _astray(ground: Ground, case: Case, got: Outcome) -> Iterator[str]:
    """Yield the valves with a head that are seen open where a healthy system has them shut.

    A way inside a boiler has no lever.
    """
    for sign, on in zip(ground.seen, got[1], strict=False):
        v = ground.subject.circuit.index.get(sign.what)
        healthy = bool(ground.healthy[sign] >> case.setting & 1)
        words = ground.subject.circuit.variables[v].words if v is not None else ("", "")
        if words[healthy] == SHUT != words[on] \
                and ground.subject.wall.parts[part_of(sign.what)].part.letter == "M":
            yield part_of(sign.what)


def _guarded(ground: Ground, valves: Sequence[str]) -> bool:
    return any(zone.valve in valves and zone.cut_out for zone in ground.subject.circuit.zones)


def outcome(ground: Ground, signs: Shown, course: Course, case: Case) -> Outcome:
    """Return what is seen in a setting; of a supply that trips, and of unrest, only that."""
    if course is not Course.RESTS:
        return course, ()
    return course, tuple(bool(signs[sign] >> case.setting & 1) for sign in ground.seen)


def sight_words(ground: Ground, case: Case, got: Outcome) -> str:
    """Return what is seen, in words: what should be at work, and what is not as it should be."""
    course, seen = got
    if course is Course.TRIPS:
        return TRIPPED
    if course is Course.RESTLESS:
        return "it starts and stops, and never comes to rest"
    said = [_said(ground, sign, on) for sign, on in zip(ground.seen, seen, strict=True)
            if _worth_saying(ground, sign, on, bool(ground.healthy[sign] >> case.setting & 1))]
    return ", ".join(said) or "everything at rest"


def _worth_saying(ground: Ground, sign: Sign, on: bool, healthy: bool) -> bool:
    """Tell whether a sign belongs in a complaint: electronics only where they are not as usual."""
    load = ground.subject.circuit.load.get(sign.what)
    always = load is not None and load.kind == "electronics"
    return on != healthy if always else on or healthy


def _said(ground: Ground, sign: Sign, on: bool) -> str:
    """Return one sign in words: `hot-water valve open`, `boiler burner off`."""
    circuit, part = ground.subject.circuit, part_of(sign.what)
    mounted = ground.subject.wall.parts[part]
    if sign.what in circuit.index:
        which = f" {sign.what.partition('.')[2]}" if len(mounted.part.positions) > 1 else ""
        return f"{mounted.called}{which} {circuit.variables[circuit.index[sign.what]].words[on]}"
    load = circuit.load.get(sign.what)
    if load and load.kind == "electronics":
        return f"{'a' if on else 'no'} lamp or display on the {mounted.called}"
    what = load.kind if load else sign.what.partition(".")[2]
    return f"{mounted.called} {what} {'on' if on else 'off'}"
