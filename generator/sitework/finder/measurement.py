"""One question of a search: how it is asked, what it needs, and who gives which answer."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Answers = tuple[tuple[str, int], ...]
"""Each answer with the numbers of the suspects that give it, as bits."""
JOINED, LOAD, OPEN, NOT_JOINED = "joined", "through a load", "open", "not joined"
WHOLE, PART, NOTHING = "230 V", "a part of it", "0 V"


ANY = -1
"""Said for the dials where an answer is the same however they stand."""


class Kind(StrEnum):
    """How an answer is got."""

    METER = "continuity, all dead"
    LOOK = "a look at a terminal, all dead"
    READ = "a reading, supply on"
    SEE = "what runs, supply on"


@dataclass(frozen=True)
class Measurement:
    """One question; `at` is the setting of the controls if live, of the dials if dead.

    `ANY` where the dials may stand as they do. `unsafe` are suspects that would trip the supply
    there, or that make a reading nobody can foretell, so that it is not asked while one of them
    may be it. `doubtful` are those with electronics between the probes: a meter may show a load or
    none.
    """

    kind: Kind
    at: int
    terminals: tuple[str, ...]
    lids: tuple[str, ...]
    answers: Answers
    unsafe: int = 0
    doubtful: int = 0

    @property
    def live(self) -> bool:
        """Whether the supply is on for it."""
        return self.kind in (Kind.READ, Kind.SEE)

    def given(self, suspects: int) -> tuple[int, ...]:
        """Return these suspects by what they would answer, doubts left aside."""
        return tuple(mask & suspects for _, mask in self.answers if mask & suspects)

    def among(self, suspects: int) -> Answers:
        """Return the answers that some of these suspects give, each with those that give it."""
        left = self.answers
        if self.doubtful & suspects:
            joined = dict(left).get(JOINED, 0)
            left = ((JOINED, joined), (NOT_JOINED, suspects & ~joined))
        return tuple((word, mask & suspects) for word, mask in left if mask & suspects)
