"""What `handbook faults` says: how every single fault shows, which look alike, how long to find."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from generator.circuit.faults import FaultKind
from generator.sitework.coverage import Coverage, Covered, Shows, classes
from generator.sitework.finder.searches import Finder


def faults_text(name: str, coverage: Coverage, found: Finder | None) -> Iterator[str]:
    """Yield the lines: by kind, what never shows, what looks alike, and the finder if wanted."""
    for kind in FaultKind:
        counted = [(shows, coverage.count(kind, shows)) for shows in Shows]
        if said := ", ".join(f"{number} {shows.value}" for shows, number in counted if number):
            yield f"{kind.value}: {said}"
    yield f"{len(coverage.faults)} single faults of {name}"
    yield from _never(coverage)
    yield from _alike(coverage)
    if found:
        yield from _finder(found)


def _never(coverage: Coverage) -> Iterator[str]:
    unseen = [c for c in coverage.faults if not c.shows]
    for why in dict.fromkeys(c.why_never for c in unseen):
        yield f"never shows, because {why}:"
        yield from (f"  {_plain(c)}" for c in unseen if c.why_never == why)


def _alike(coverage: Coverage) -> Iterator[str]:
    groups = _groups(coverage)
    for number, group in enumerate(groups, 1):
        yield (f"look alike, group {number} of {len(groups)}; no test tells them apart, "
               "at most a look:")
        yield from (f"  {_plain(c)}" for c in group)


def _groups(coverage: Coverage) -> tuple[tuple[Covered, ...], ...]:
    """Return the faults that show and that no test tells apart, in groups of two and more."""
    return tuple(group for group in classes(coverage)
                 if len(group) > 1 and any(c.shows for c in group))


def _finder(found: Finder) -> Iterator[str]:
    for search in found.searches:
        figures = search.figures
        yield (f"{search.complaint.words}: {search.complaint.suspects.bit_count()} faults, "
               f"{figures.classes} told apart, {figures.expected:.1f} measurements expected, "
               f"{figures.worst} at worst")
        yield from (f"  also: {also}" for also in search.complaint.also)
    if not found.searches:
        yield "No complaint is followed: a closed part decides what runs, or nothing is seen to."
        return
    yield (f"{len(found.searches)} complaints: {found.expected:.2f} measurements expected in the "
           f"mean, {found.worst} at worst; not below {found.bound:.2f} (log2 of the number of "
           "groups) with two answers to each")
    costs = found.costs
    yield (f"counted as: reading {costs.reading:g}, control {costs.control:g}, "
           f"valve {costs.valve:g}, lid {costs.lid:g}, isolating {costs.isolating:g}; "
           "a judgement, no source")


def _plain(covered: Covered) -> str:
    return covered.fault.words.replace("`", "")


def faults_json(name: str, coverage: Coverage, found: Finder | None) -> str:
    """Return one object; the form is described in DEVELOPERS.md."""
    number = {id(covered): at for at, covered in enumerate(coverage.faults)}
    said: dict[str, Any] = {
        "system": name,
        "faults": [_fault(covered) for covered in coverage.faults],
        "alike": [[number[id(covered)] for covered in group] for group in _groups(coverage)],
    }
    if found:
        said["finder"] = {
            "expected": round(found.expected, 3), "bound": round(found.bound, 3),
            "worst": found.worst, "costs": found.costs.model_dump(exclude={"kind"}),
            "complaints": list(_complaints(found))}
    return json.dumps(said, indent=1, ensure_ascii=False)


def _fault(covered: Covered) -> dict[str, Any]:
    place = covered.fault.place
    return {"kind": covered.fault.kind.value, "words": covered.fault.words,
            "place": {"file": place.file, "line": place.line, "column": place.column},
            "shows": [shows.value for shows in covered.shows], "why-never": covered.why_never}


def _complaints(found: Finder) -> Iterator[dict[str, Any]]:
    for search in found.searches:
        complaint, figures = search.complaint, search.figures
        yield {"words": complaint.words, "also": list(complaint.also),
               "faults": [n for n in range(len(found.suspects)) if complaint.suspects >> n & 1],
               "classes": figures.classes, "expected": round(figures.expected, 3),
               "worst": figures.worst, "bound": round(figures.bound, 3)}
