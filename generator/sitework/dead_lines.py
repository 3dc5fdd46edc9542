"""The dead tests as lines of a page, each with the faults that it is the first to show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from generator.sitework.coverage import Coverage, Shows
from generator.sitework.dead_tests import LOW, DeadKind, DeadTest, Settings
from generator.sitework.electronics import Off


@dataclass(frozen=True)
class DeadLine:
    """Readings from one group of terminals to each of others, or to all of them linked."""

    kind: DeadKind
    does: str
    one: tuple[str, ...]
    other: tuple[str, ...]
    settings: Settings
    joined: bool
    shows: tuple[str, ...]


@dataclass(frozen=True)
class DeadSheet:
    """All that is tested dead: the lines, how many readings they are, and the counting bound.

    `off` is what comes off before nets are read apart; `looks` are the faults that only a look at
    the terminals shows; `low` is in ohm.
    """

    joined: tuple[DeadLine, ...]
    switched: tuple[DeadLine, ...]
    apart: tuple[DeadLine, ...]
    through: tuple[DeadLine, ...]
    settings: Settings
    off: tuple[Off, ...]
    readings: int
    at_least: int
    looks: tuple[str, ...]
    low: float = LOW

    @property
    def bare(self) -> tuple[str, ...]:
        """The opened parts whose electronics come off in their own box."""
        return tuple(off.part for off in self.off if not off.cores)

    @property
    def shut(self) -> tuple[Off, ...]:
        """The parts that stay shut, with the cores that come off the strip for them."""
        return tuple(off for off in self.off if off.cores)


def dead_sheet(coverage: Coverage) -> DeadSheet:
    """Return the dead tests of a system as a page says them."""
    tests = coverage.dead_tests
    lines = tuple(_lines(coverage))
    by_kind = {kind: tuple(line for line in lines if line.kind is kind) for kind in DeadKind}
    return DeadSheet(
        by_kind[DeadKind.JOINED], by_kind[DeadKind.SWITCHED], by_kind[DeadKind.APART],
        by_kind[DeadKind.THROUGH],
        tests.settings, tests.off, len(tests.tests), tests.at_least,
        tuple(c.fault.words for c in coverage.faults if c.surest is Shows.LOOKING))


def _lines(coverage: Coverage) -> Iterator[DeadLine]:
    numbered = enumerate(coverage.dead_tests.tests)
    for _, group in groupby(numbered, key=lambda pair: _begins(pair[1])):
        numbers, tests = zip(*group, strict=True)
        first: DeadTest = tests[0]
        yield DeadLine(
            first.kind, first.does, first.one, tuple(t for test in tests for t in test.other),
            first.settings, first.joined,
            tuple(c.fault.words for c in coverage.faults
                  if c.failing and c.failing[0] in numbers))


def _begins(test: DeadTest) -> tuple[object, ...]:
    return test.kind, test.one, test.settings, test.joined
