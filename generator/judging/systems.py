"""Judges a system as it stands, and which edit brought what is wrong with it."""

from __future__ import annotations

from generator.checks.subject import subject
from generator.findings import Finding, Unreadable
from generator.judging.asking import system_verdicts
from generator.judging.judged import Judged
from generator.judging.tracing import Again, traced, traced_verdicts
from generator.recipe.edits import Edit
from generator.recipe.library import Library
from generator.recipe.reader import looked_up
from generator.recipe.standing import Standing
from generator.recipe.variants import Variant


def judged_system(library: Library, stands: Standing) -> Judged:
    """Return a system with what the rules say of it; raises Unreadable."""
    again = system_again(library, stands)
    try:
        judged = _judged(library, stands)
    except Unreadable as unreadable:
        raise Unreadable(traced(unreadable.findings, stands.edits, again)) from None
    verdicts = traced_verdicts(judged.verdicts, stands.edits, again)
    written = stands.source.model
    return Judged(judged.source, judged.subject, verdicts,
                  variant=written if isinstance(written, Variant) else None)


def _judged(library: Library, stands: Standing, without: Edit | None = None) -> Judged:
    system = subject(looked_up(library, stands.read(without)))
    return Judged(system.wall.source, system, system_verdicts(system))


def system_again(library: Library, stands: Standing) -> Again:
    """Return what judges a system once more as if one of its edits had not been written."""
    def again(edit: Edit | None) -> tuple[Finding, ...]:
        try:
            return _judged(library, stands, edit).findings
        except Unreadable as unreadable:
            return unreadable.findings

    return again
