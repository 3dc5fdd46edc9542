"""Judges a conversion in every combination of its choices, those that are not offered too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.checks.catalogue import SYSTEM_RULES
from generator.checks.subject import job_subject
from generator.findings import Finding, Unreadable, listed, mistake
from generator.judging.asking import job_verdicts
from generator.judging.judged import Judged, Refusal
from generator.judging.systems import system_again
from generator.judging.tracing import named_anew, traced
from generator.recipe.choosing import choice_mistakes
from generator.recipe.combining import SIDES, Chosen, Combination, combinations
from generator.recipe.conversions import Conversion
from generator.recipe.edits import Edit
from generator.recipe.library import Library
from generator.recipe.parts import unknown
from generator.recipe.reader import read_combination, side_of
from generator.recipe.wall import Source
from generator.sitework.catalogue import EVERY_RULE

_OF_SYSTEMS = frozenset(rule.name for rule in SYSTEM_RULES)
_NAMES = frozenset(rule.name for rule in EVERY_RULE)


def judged_combinations(
    library: Library, source: Source, conversion: Conversion
) -> tuple[Judged, ...]:
    """Return the usual combination, then every other that is offered; raises Unreadable.

    With the usual one comes what is wrong with the others, and with the refusals.
    """
    if mistakes := tuple(choice_mistakes(source, conversion)):
        raise Unreadable(mistakes)
    first, *rest = combinations(source, conversion)
    try:
        usual = _traced(library, first, _judged(library, first))
    except Unreadable as unreadable:
        raise Unreadable(_unread(library, first, unreadable.findings)) from None
    offered = [(each, *_tried(library, each)) for each in rest if not each.refused]
    refused = [(each, _tried(library, each)[1]) for each in rest if each.refused]
    more = (
        *_told(library, [(first, usual.findings), *((each, f) for each, _, f in offered)]),
        *(f for each, findings in refused for f in _unfounded(each, findings)))
    refusals = tuple(_refusal(each, findings) for each, findings in refused)
    others = tuple(judged for _, judged, findings in offered if judged and not findings)
    return (replace(usual, more=more, refusals=refusals), *others)


def _judged(library: Library, each: Combination, without: Edit | None = None) -> Judged:
    job = job_subject(read_combination(library, each, without))
    return Judged(job.job.source, job, job_verdicts(job))


def _tried(
    library: Library, each: Combination, without: Edit | None = None
) -> tuple[Judged | None, tuple[Finding, ...]]:
    """Return what came of a combination, if it could be read, and what was found."""
    try:
        judged = _judged(library, each, without)
        return judged, judged.findings
    except Unreadable as unreadable:
        return None, unreadable.findings


def _told(
    library: Library, combinations: list[tuple[Combination, tuple[Finding, ...]]]
) -> Iterator[Finding]:
    """Yield what is wrong with combinations other than the usual, and with which option it comes.

    What a combination with fewer of its options does wrong as well is told there.
    """
    before: list[tuple[set[Chosen], set[tuple[str, str]]]] = []
    for each, findings in sorted(combinations, key=lambda pair: len(pair[0].unusual)):
        options = {*each.unusual}
        known = {key for fewer, keys in before if fewer <= options for key in keys}
        if options:
            own = [f for f in findings if (f.rule, f.message) not in known]
            told = _blamed(library, each, own, combinations[0][0])
            yield from (_with_options(finding, each) for finding in told)
        before.append((options, {(f.rule, f.message) for f in findings}))


def _with_options(finding: Finding, each: Combination) -> Finding:
    options = (chosen.place.noted("with this option") for chosen in each.unusual)
    return replace(finding, places=(*finding.places, *options))


def _traced(library: Library, each: Combination, judged: Judged) -> Judged:
    plain = [finding for _, verdict in judged.verdicts for finding in verdict.findings]
    told = dict(zip(plain, _blamed(library, each, plain), strict=True))
    return replace(judged, verdicts=named_anew(judged.verdicts, told))


def _unread(
    library: Library, each: Combination, findings: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """Return what kept a conversion from being read, as its two systems tell it themselves."""
    told = {finding: finding for finding in findings}
    for side in SIDES:
        try:
            stands = side_of(library, each, side)
        except Unreadable:
            continue
        again = system_again(library, stands)
        own = [finding for finding in again(None) if finding in told]
        told |= dict(zip(own, traced(own, stands.edits, again), strict=True))
    return tuple(told.values())


def _blamed(
    library: Library, each: Combination, findings: Sequence[Finding],
    usual: Combination | None = None,
) -> tuple[Finding, ...]:
    """Return findings with the edits that brought them, of whichever system they are about.

    Edits that the `usual` combination has as well are not to blame.
    """
    if not findings:
        return ()
    try:
        found, fitted = (_edits(library, each, side, usual) for side in SIDES)
    except Unreadable:
        return tuple(findings)
    # A system alone is judged many times faster than the whole job.
    again = system_again(library, side_of(library, each, "fitted"))
    own = [f for f in findings if f.rule in _OF_SYSTEMS]
    rest = [f for f in findings if f.rule not in _OF_SYSTEMS]
    told = dict(zip(own, traced(own, fitted, again), strict=True))
    told |= dict(zip(rest, traced(rest, (*found, *fitted),
                                  lambda edit: _tried(library, each, edit)[1]), strict=True))
    return tuple(told[finding] for finding in findings)


def _edits(
    library: Library, each: Combination, side: str, usual: Combination | None
) -> tuple[Edit, ...]:
    edits = side_of(library, each, side).edits
    as_usual = {edit.place for edit in side_of(library, usual, side).edits} if usual else set()
    return tuple(edit for edit in edits if edit.place not in as_usual)


def _refusal(each: Combination, findings: tuple[Finding, ...]) -> Refusal:
    assert each.refused
    ruled = tuple(f for f in findings if f.rule == each.refused.fails)
    says = tuple(chosen.option.says for chosen in each.unusual)
    return Refusal(each.options, says, each.refused.because, ruled or findings)


def _unfounded(each: Combination, findings: tuple[Finding, ...]) -> Iterator[Finding]:
    """Yield that a rule which is said to refuse a combination finds nothing wrong with it."""
    assert each.refused
    rule = each.refused.fails
    if rule and rule not in _NAMES:
        yield unknown("rule", rule, sorted(_NAMES), each.refusal_place("fails"), "The handbook")
    elif rule and rule not in (found := {f.rule for f in findings}):
        yield mistake(
            "refusal-without-fault", f"`{rule}` finds nothing wrong with what is not offered.",
            each.refusal_place("fails"), found=listed(sorted(found), "and") or "no finding at all",
            expected=f"a finding of `{rule}`",
            hint="name a rule that does, or leave `fails:` out")
