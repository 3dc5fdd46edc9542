"""Every core and link of a conversion by its two ends: where each is found and where it lands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.circuit.elements import part_of
from generator.recipe.wall import Job
from generator.sitework.changes import Changes, CoreChange, Ends, Fate


@dataclass(frozen=True)
class End:
    """One end: the terminal it is found on and the one it lands on, or nothing.

    `name` is a terminal of its own: the end itself, while it hangs loose.
    """

    name: str
    before: str
    after: str

    @property
    def stays(self) -> bool:
        """Whether it is found where it lands."""
        return self.before == self.after


@dataclass(frozen=True)
class Run:
    """A core, or a link (its `cable` is nothing), with both its ends."""

    name: str
    cable: str
    colour: str
    sleeve: str
    did: str
    does: str
    fate: Fate
    how: str
    ends: tuple[End, End]

    @property
    def turn(self) -> int:
        """Earth 0, neutral 1, line 2: the order in which the cores of a cable are landed."""
        if self.colour == "GNYE":
            return 0
        return 1 if (self.sleeve or self.colour) == "BU" else 2

    def other(self, end: End) -> End:
        """Return the end that is not this one."""
        return next(each for each in self.ends if each is not end)


def runs(job: Job, changes: Changes) -> tuple[Run, ...]:
    """Return every core and link of a conversion, links last."""
    at = {name: part.placed.at for wall in (job.found, job.fitted)
          for name, part in wall.parts.items()}
    return (*(_run(core, core.cable, at) for core in changes.cores()),
            *(_run(link, "", at) for link in changes.links))


def _run(core: CoreChange, cable: str, at: Mapping[str, str]) -> Run:
    name = f"{cable}.{core.colour}" if cable else core.cable
    stem = f"{cable}:{core.colour}" if cable else f"{name}:link"
    one, other = _paired(core.before, core.after, at)
    return Run(name, cable, core.colour, core.sleeve, core.did, core.does, core.fate,
               core.how, (End(f"{stem}-1", *one), End(f"{stem}-2", *other)))


def _paired(before: Ends | None, after: Ends | None, at: Mapping[str, str]) -> tuple[Ends, Ends]:
    """Return before and after of each end; an end stays at its part, or at least at its place."""
    old, new = before or ("", ""), after or ("", "")
    crossed = (new[1], new[0])
    best = max((new, crossed), key=lambda pair: sum(
        _near(a, b, at) for a, b in zip(old, pair, strict=True)))
    return (old[0], best[0]), (old[1], best[1])


def _near(before: str, after: str, at: Mapping[str, str]) -> int:
    if not before or not after:
        return 0
    one, other = part_of(before), part_of(after)
    return 4 * (before == after) + 2 * (one == other) + (at[one] == at[other])


def changed(every: tuple[Run, ...]) -> Iterator[tuple[Run, End]]:
    """Yield each end that comes off, goes on or changes its terminal, with its run."""
    for run in every:
        yield from ((run, end) for end in run.ends if not end.stays)
