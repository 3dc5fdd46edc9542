"""One question of a search: how it is asked, what it needs, and who gives which answer."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

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


Need = tuple[bool, int, tuple[str, ...]]
"""What a measurement needs: the supply on or not, the setting, and which enclosures are open."""


@dataclass(frozen=True, eq=False)
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

    @cached_property
    def live(self) -> bool:
        """Whether the supply is on for it."""
        return self.kind in (Kind.READ, Kind.SEE)

    @cached_property
    def need(self) -> Need:
        """What must be done before it, from wherever one stands, is the same for equal needs."""
        return self.live, self.at, self.lids

    @cached_property
    def masks(self) -> tuple[int, ...]:
        """The numbers of the suspects that give each answer, as bits."""
        return tuple(mask for _, mask in self.answers)

    @cached_property
    def _joined(self) -> int:
        return dict(self.answers).get(JOINED, 0)

    def given(self, suspects: int) -> tuple[int, ...]:
        """Return these suspects by what they would answer, doubts left aside."""
        return tuple([told for mask in self.masks if (told := mask & suspects)])

    def told(self, suspects: int) -> tuple[int, ...]:
        """Return these suspects by their answers, without the answers."""
        if not self.doubtful & suspects:
            return self.given(suspects)
        sides = self._joined & suspects, suspects & ~self._joined
        return tuple(side for side in sides if side)

    def among(self, suspects: int) -> Answers:
        """Return the answers that some of these suspects give, each with those that give it."""
        left = self.answers
        if self.doubtful & suspects:
            left = ((JOINED, self._joined), (NOT_JOINED, ~self._joined))
        return tuple((word, told) for word, mask in left if (told := mask & suspects))
