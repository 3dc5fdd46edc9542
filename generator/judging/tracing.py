"""Which edit of a variant brought a finding: the one without which it is gone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.findings import BRINGS, Finding, Place
from generator.judging.judged import Verdicts
from generator.recipe.document import Value
from generator.recipe.edits import Edit

Again = Callable[[Edit | None], tuple[Finding, ...]]
"""Judges once more, as if one edit had not been written or with all of them."""
Key = tuple[str, str]
Line = tuple[str, int]

MOST = 3
"""Edits that a finding names; where it takes more to be rid of it, these are enough to look at."""
LANDED = ("cores", "links")
"""What is landed: an author who looks for a fault looks there first."""


@dataclass(frozen=True)
class _Trial:
    """An edit, the lines it is written on, and what is found without it."""

    edit: Edit
    lines: frozenset[Line]
    left: frozenset[Key]

    @property
    def landed(self) -> bool:
        """Whether it is about a core or a link alone, not about a whole part, cable or zone."""
        return any(step in LANDED for step in self.edit.path)


def traced(
    findings: Sequence[Finding], edits: Sequence[Edit], again: Again
) -> tuple[Finding, ...]:
    """Return findings with the lines that brought them before their other places.

    An edit is to blame if without it the finding is gone and no other comes for it. Of an edit
    that holds a place of the finding, that place is told. Where no edit alone is to blame, the
    places that any edit holds come first.
    """
    if not findings:
        return ()
    before = {_key(finding) for finding in findings}
    trials = [_Trial(edit, frozenset(lines_of(edit)), frozenset(map(_key, again(edit))))
              for edit in edits]
    return tuple(_told(finding, before, trials) for finding in findings)


def _told(finding: Finding, before: set[Key], trials: list[_Trial]) -> Finding:
    clean = [t for t in trials if _key(finding) not in t.left and t.left <= before]
    blamed = sorted(clean, key=lambda trial: not trial.landed)
    if blamed:
        first = [_of(trial, finding).noted(BRINGS) for trial in blamed]
    else:
        first = [place for place in finding.places if _written(place, trials)]
    first = list({_line(place): place for place in reversed(first)}.values())[::-1][:MOST]
    told = {_line(place) for place in first}
    rest = [place for place in finding.places if _line(place) not in told]
    return replace(finding, places=(*first, *rest))


def _of(trial: _Trial, finding: Finding) -> Place:
    """Return where an edit is told: at a place of the finding that it holds, else where it is."""
    return next((place for place in finding.places if _line(place) in trial.lines),
                trial.edit.place)


def _written(place: Place, trials: list[_Trial]) -> bool:
    return any(_line(place) in trial.lines for trial in trials)


def lines_of(edit: Edit) -> Iterator[Line]:
    """Yield the lines on which an edit and what it puts in are written."""
    yield _line(edit.place)
    waiting = [edit.value] if edit.value else []
    while waiting:
        value = waiting.pop()
        yield from (_line(place) for place in (value.place, *value.keys.values()))
        waiting += _below(value)


def _below(value: Value) -> list[Value]:
    return [below for _, below in value.children()]


def _line(place: Place) -> Line:
    return place.file, place.line


def _key(finding: Finding) -> Key:
    return finding.rule, finding.message


def traced_verdicts(verdicts: Verdicts, edits: Sequence[Edit], again: Again) -> Verdicts:
    """Return verdicts whose findings name the edits that brought them."""
    plain = [finding for _, verdict in verdicts for finding in verdict.findings]
    return named_anew(verdicts, dict(zip(plain, traced(plain, edits, again), strict=True)))


def named_anew(verdicts: Verdicts, told: Mapping[Finding, Finding]) -> Verdicts:
    """Return verdicts with each finding as it is told."""
    return tuple((rule, replace(verdict, findings=tuple(told[f] for f in verdict.findings)))
                 for rule, verdict in verdicts)
