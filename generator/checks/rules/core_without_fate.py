"""Something found on the wall of which the page does not say, or says twice, what becomes of it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import JobSubject
from generator.findings import Finding, Place, Severity
from generator.recipe.wall import Job, Wall

FEW = 3
"""Up to so many things may be forgotten before it is asked whether another system is meant."""


def judge(subject: JobSubject) -> Verdict:
    """Ask of every part, cable and link that is found, and of every core of a cable that stays."""
    job = subject.job
    things = [*_things(job.found)]
    cores = [(name, colour) for name in _kept_cables(job)
             for colour in job.found.cables[name].cable.cores]
    fates = [f for group, name in things for f in _fate(job, group, name)]
    findings = [_other_system(job, len(fates), len(things))] if _strange(fates, things) else [
        *fates, *(f for name, colour in cores for f in _core(job, name, colour))]
    return verdict(
        len(things) + len(cores), "parts, cables, links and cores that are found", findings)


def _strange(fates: list[Finding], things: list[tuple[str, str]]) -> bool:
    """Return whether so much is wrong that another system must be meant; a judgement."""
    return len(fates) > FEW and 2 * len(fates) > len(things)


def _other_system(job: Job, fates: int, things: int) -> Finding:
    return _finding(
        f"This conversion does not speak of `{job.found.name}`, or does not lead to "
        f"`{job.fitted.name}`.",
        (job.source.place("found").noted("the found system"),
         job.source.place("fitted").noted("the fitted system"),
         job.source.key_place("goes").noted("what goes")),
        f"{fates} of the {things} parts, cables and links that are found have no fate",
        "the two systems that this conversion is about",
        "if they are the right ones, `goes:` is still to be written")


def _things(wall: Wall) -> Iterator[tuple[str, str]]:
    yield from (("parts", name) for name in wall.parts)
    yield from (("cables", name) for name in wall.cables)
    yield from (("links", name) for name in wall.system.links)


def _what(wall: Wall, group: str, name: str) -> str:
    """Return what a thing is, so that two of one name can be told apart; nothing if not there."""
    if group == "links":
        link = wall.system.links.get(name)
        return "a link between " + " and ".join(sorted((link.from_, link.to))) if link else ""
    placed = (wall.system.parts if group == "parts" else wall.system.cables).get(name)
    return placed.is_ if placed else ""


def _kept_cables(job: Job) -> Iterator[str]:
    for name in job.found.cables:
        if _what(job.found, "cables", name) == _what(job.fitted, "cables", name):
            yield name


def _fate(job: Job, group: str, name: str) -> Iterator[Finding]:
    before, after = (_what(wall, group, name) for wall in (job.found, job.fitted))
    gone, goes = not after, name in job.conversion.goes
    at = job.found.source.key_place(group, name).noted("found")
    there = job.fitted.source.key_place(group, name).noted("fitted")
    said = job.source.key_place("goes", name).noted("said to go")
    if gone and not goes:
        where = job.source.key_place("goes").noted("where it would stand")
        yield _finding(f"Nothing is said of what becomes of `{name}`.", (where, at),
                       f"`{name}` found, not fitted, not under `goes:`",
                       "it stays as it is, or `goes:` says removed or made safe, and how")
    elif not gone and before != after:
        yield _finding(f"`{name}` is one thing before and another after.", (there, at),
                       f"{before}, then {after}",
                       "a designation for each, and under `goes:` what becomes of the old one")
    elif not gone and goes:
        yield _finding(f"`{name}` is said to go, and is still there.", (said, there, at),
                       "it stands under `goes:` and in the fitted system", "one or the other")


def _core(job: Job, name: str, colour: str) -> Iterator[Finding]:
    if colour not in job.fitted.cables[name].laid.cores:
        yield _finding(
            f"Nothing is said of what becomes of the core `{name}.{colour}`.",
            (job.fitted.source.key_place("cables", name).noted("the cable as fitted"),
             job.found.source.key_place("cables", name, "cores", colour).noted("found")),
            f"`{name}` stays, its core `{colour}` is not named",
            "`from:` and `to:`, or `made-safe:` for a core that goes nowhere")


def _finding(
    message: str, places: tuple[Place, ...], found: str, expected: str, hint: str = ""
) -> Finding:
    return Finding(RULE.name, RULE.severity, message, places, found, expected, hint)


RULE = Rule(
    "core-without-fate",
    "Something found has no fate",
    Severity.ERROR,
    (Basis(Known.PRACTICE, "a core left hanging is found live by the next person; each one that is "
                           "met is landed, made safe at both ends, or removed"),),
    judge,
)
