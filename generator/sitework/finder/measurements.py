"""What can be measured or looked at on a wall, and which suspects give which answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import combinations

from generator.circuit.elements import part_of
from generator.sitework.finder.complaints import outcome, sight_words
from generator.sitework.finder.ground import Case, Ground
from generator.sitework.finder.measurement import (
    ANY,
    JOINED,
    LOAD,
    NOTHING,
    OPEN,
    PART,
    WHOLE,
    Answers,
    Kind,
    Measurement,
)
from generator.sitework.finder.readings import DOUBTFUL
from generator.sitework.finder.suspects import Course, Joints, Suspect, dial_settings


def measurements(ground: Ground, suspects: Sequence[Suspect]) -> tuple[Measurement, ...]:
    """Return every question that tells some suspects from others, what is dead first."""
    made = (*_metered(ground, suspects), *_looks(ground, suspects),
            *(m for case in ground.cases for m in _live(ground, suspects, case)))
    return tuple(m for m in made if len(m.answers) > 1)


def _metered(ground: Ground, suspects: Sequence[Suspect]) -> Iterator[Measurement]:
    """Yield continuity between pairs: one probe at a strip, or both in one box."""
    found = {dials: _by([each.dead[dials] for each in suspects])
             for dials in dial_settings(ground)}
    for a, b in combinations(ground.site.metered, 2):
        if _together(ground, a, b):
            given = {dials: _met(alike, a, b) for dials, alike in found.items()}
            same = len(set(given.values())) == 1
            for dials, (answers, doubtful) in list(given.items())[:1 if same else None]:
                yield Measurement(Kind.METER, ANY if same else dials, (a, b),
                                  _lids(ground, a, b), answers, doubtful=doubtful)


def _met(alike: Alike, a: str, b: str) -> tuple[Answers, int]:
    """Return the answers between two terminals, and the suspects whose answer is doubtful."""
    masks, doubtful = {JOINED: 0, LOAD: 0, OPEN: 0}, 0
    for mask, (direct, linear, loads), (other, other_linear, other_loads) in zip(
            alike.masks, alike.on[a], alike.on[b], strict=True):
        if direct == other:
            masks[JOINED] |= mask
        elif linear == other_linear:
            masks[LOAD] |= mask
        else:
            masks[OPEN] |= mask
            doubtful |= mask if loads == other_loads else 0
    return _given(masks), doubtful


@dataclass(frozen=True)
class Alike:
    """Suspects, once where many join alike, and for each the nets that a terminal is `on` then.

    Three nets: what it is joined to directly, through linear loads, through any.
    """

    masks: tuple[int, ...]
    on: Mapping[str, tuple[tuple[int, int, int], ...]]


def _by(found: Sequence[Joints]) -> Alike:
    alike: dict[tuple[tuple[int, int, int], ...], int] = {}
    for number, each in enumerate(found):
        key = tuple(zip(each.direct.values(), each.linear.values(), each.loads.values(),
                        strict=True))
        alike[key] = alike.get(key, 0) | 1 << number
    return Alike(tuple(alike.values()),
                 dict(zip(found[0].direct, zip(*alike, strict=True), strict=True)))


def _together(ground: Ground, a: str, b: str) -> bool:
    parts = ground.subject.wall.parts
    strip = any(parts[part_of(each)].part.letter == "X" for each in (a, b))
    outermost = ground.subject.outermost
    return strip or outermost(part_of(a)) == outermost(part_of(b))


def _lids(ground: Ground, *terminals: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(lid for each in terminals if (lid := ground.lid(each))))


def _given(masks: dict[str, int]) -> Answers:
    return tuple((word, mask) for word, mask in masks.items() if mask)


def _looks(ground: Ground, suspects: Sequence[Suspect]) -> Iterator[Measurement]:
    for terminal in ground.site.metered:
        masks: dict[str, int] = {}
        for number, suspect in enumerate(suspects):
            word = ", ".join(suspect.landed.get(terminal, ())) or "nothing"
            masks[word] = masks.get(word, 0) | 1 << number
        yield Measurement(Kind.LOOK, ANY, (terminal,), (ground.box(terminal),), _given(masks))


def _live(ground: Ground, suspects: Sequence[Suspect], case: Case) -> Iterator[Measurement]:
    courses = [suspect.courses[case.setting] for suspect in suspects]
    trips = _numbers(course is Course.TRIPS for course in courses)
    seen: dict[str, int] = {}
    words = cache(partial(sight_words, ground, case))
    for number, suspect in enumerate(suspects):
        word = words(outcome(ground, suspect.signs, courses[number], case))
        seen[word] = seen.get(word, 0) | 1 << number
    yield Measurement(Kind.SEE, case.setting, (), (), _given(seen), trips)
    reads = [suspect.reads.get(case.setting, {}) for suspect in suspects]
    for pair in ground.read:
        answers = {WHOLE: 0, PART: 0, NOTHING: 0, DOUBTFUL: 0}
        for number, each in enumerate(reads):
            answers[each.get(pair, DOUBTFUL)] |= 1 << number
        doubtful = answers.pop(DOUBTFUL)
        lids = tuple(dict.fromkeys(map(ground.box, pair)))
        yield Measurement(Kind.READ, case.setting, pair, lids, _given(answers), doubtful)


def _numbers(true: Iterable[bool]) -> int:
    return sum(1 << number for number, each in enumerate(true) if each)
