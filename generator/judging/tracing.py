"""Which edit of a variant brought a finding: the one without which it is gone."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from generator.findings import BRINGS, Finding
from generator.judging.judged import Verdicts
from generator.recipe.edits import Edit

Again = Callable[[Edit | None], tuple[Finding, ...]]
"""Judges once more, as if one edit had not been written or with all of them."""

MOST = 3
"""Edits that a finding names; where it takes more to be rid of it, these are enough to look at."""


def traced(
    findings: Sequence[Finding], edits: Sequence[Edit], again: Again
) -> tuple[Finding, ...]:
    """Return findings with the edits that brought them before their other places.

    An edit is to blame if without it the finding is gone and no other comes for it; where there is
    none such, each without which it is gone.
    """
    if not findings:
        return ()
    before = {_key(finding) for finding in findings}
    after = [(edit, {_key(finding) for finding in again(edit)}) for edit in edits]
    return tuple(_blamed(finding, before, after) for finding in findings)


def _blamed(
    finding: Finding, before: set[tuple[str, str]], after: list[tuple[Edit, set[tuple[str, str]]]]
) -> Finding:
    gone = [(edit, left) for edit, left in after if _key(finding) not in left]
    clean = [edit for edit, left in gone if left <= before]
    blamed = clean or [edit for edit, _ in gone]
    seen = {(place.file, place.line) for place in finding.places}
    new = [edit.place for edit in blamed if (edit.place.file, edit.place.line) not in seen]
    places = dict.fromkeys(place.noted(BRINGS) for place in new[:MOST])
    return replace(finding, places=(*places, *finding.places))


def _key(finding: Finding) -> tuple[str, str]:
    return finding.rule, finding.message


def traced_verdicts(verdicts: Verdicts, edits: Sequence[Edit], again: Again) -> Verdicts:
    """Return verdicts whose findings name the edits that brought them."""
    plain = [finding for _, verdict in verdicts for finding in verdict.findings]
    return named_anew(verdicts, dict(zip(plain, traced(plain, edits, again), strict=True)))


def named_anew(verdicts: Verdicts, told: Mapping[Finding, Finding]) -> Verdicts:
    """Return verdicts with each finding as it is told."""
    return tuple((rule, replace(verdict, findings=tuple(told[f] for f in verdict.findings)))
                 for rule, verdict in verdicts)
