"""Checks that a conversion speaks only of what its two systems hold, and has two people."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, Place, mistake
from generator.recipe.naming import switch_mistakes
from generator.recipe.parts import second_half, unknown
from generator.recipe.wall import Job, outcome_words


def job_mistakes(job: Job) -> Iterator[Finding]:
    """Yield every name in a conversion that names nothing, and what is given twice."""
    yield from _wrong_way(job)
    yield from _doubled_cases(job)
    yield from _own_reviewer(job)
    found = job.found.system
    known = [*found.parts, *found.cables, *found.links]
    for name in job.conversion.goes:
        if name not in known:
            yield unknown("designation", name, known, job.source.key_place("goes", name),
                          "The found system", "part, cable or link")
    for i, step in enumerate(job.conversion.set_up):
        for zone in step.works:
            if zone not in job.fitted.system.zones:
                yield unknown("zone", zone, job.fitted.system.zones,
                              job.source.key_place("set-up", i, "works", zone),
                              "The fitted system")
    for i, expected in enumerate(job.conversion.expect):
        for switch, word in expected.when.items():
            path = ("expect", i, "when", switch)
            yield from switch_mistakes(job.fitted, switch, word, job.source.key_place(*path),
                                       job.source.place(*path))
        for what, word in expected.then.items():
            yield from _outcome_mistakes(job, i, what, word)


def _doubled_cases(job: Job) -> Iterator[Finding]:
    first: dict[str, Place] = {}
    for i, expected in enumerate(job.conversion.expect):
        place = job.source.place("expect", i, "name")
        if expected.name in first:
            yield mistake(
                "doubled-key", f"Two cases are called `{expected.name}`.",
                place.noted("given again here"), first[expected.name].noted("first given here"),
                found="one name for two cases", expected="a name of its own for each case")
        first.setdefault(expected.name, place)


def _own_reviewer(job: Job) -> Iterator[Finding]:
    revision = job.conversion.revision
    if revision.reviewed_by.strip().casefold() == revision.written_by.strip().casefold():
        yield mistake(
            "own-reviewer", "The author reviewed this conversion.",
            job.source.place("revision", "reviewed-by"),
            job.source.place("revision", "written-by").noted("the author"),
            found=f"`{revision.reviewed_by}` twice", expected="a second person",
            hint="leave `reviewed-by:` out until somebody else has read it")


def _wrong_way(job: Job) -> Iterator[Finding]:
    for key, wall, stands in (("found", job.found, "found"), ("fitted", job.fitted, "standard")):
        if wall.system.stands != stands:
            yield mistake(
                "wrong-kind", f"`{wall.name}` cannot be the {key} system.",
                job.source.place(key), wall.source.place("stands").noted("its file says so here"),
                found=f"`stands: {wall.system.stands}`", expected=f"`stands: {stands}`")


def _outcome_mistakes(job: Job, i: int, what: str, word: str) -> Iterator[Finding]:
    """Yield what is wrong with `what: word`: a position, a load or a heat source."""
    key = job.source.key_place("expect", i, "then", what)
    designation, _, name = what.partition(".")
    if designation not in job.fitted.parts:
        yield unknown("designation", designation, job.fitted.parts, key,
                      "The fitted system", "part")
        return
    words = outcome_words(job.fitted, designation)
    name = name or next(iter(words), "")
    if not words:
        yield mistake("unknown-outcome", f"`{designation}` does nothing that could be expected.",
                      key, found=f"`{designation}`",
                      expected="a part with a position, a load or a heat source")
    elif name not in words:
        yield unknown("outcome", name, words, second_half(key, what, name), f"`{designation}`",
                      "position, load or heat source")
    elif word not in words[name]:
        yield unknown("setting", word, words[name],
                      job.source.place("expect", i, "then", what), f"`{what}`")
