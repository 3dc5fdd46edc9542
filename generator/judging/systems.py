"""Judges a system as it stands, and which edit brought what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.subject import subject
from generator.findings import Finding, Unreadable
from generator.judging.asking import system_verdicts
from generator.judging.judged import Judged
from generator.judging.tracing import Again, lines_of, traced, traced_verdicts
from generator.recipe.edits import Edit, edits_of
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
    if wrong := tuple(_unreadable_offers(library, stands)):
        raise Unreadable(wrong)
    verdicts = traced_verdicts(judged.verdicts, stands.edits, again)
    written = stands.source.model
    return Judged(judged.source, judged.subject, verdicts,
                  variant=written if isinstance(written, Variant) else None)


def _unreadable_offers(library: Library, stands: Standing) -> Iterator[Finding]:
    """Yield every name in an offered change that names nothing, also where nobody asks for it.

    What an offer lacks without another that is asked for with it is not its mistake.
    """
    offers = stands.source.document.value("offers")
    for name, change in ((offers and offers.mapping) or {}).items():
        lines = {line for edit in edits_of(change) for line in lines_of(edit)}
        try:
            looked_up(library, stands.asked([(name, change.place)]).read())
        except Unreadable as unreadable:
            yield from (f for f in unreadable.findings
                        if (f.places[0].file, f.places[0].line) in lines)


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
