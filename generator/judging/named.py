"""A conversion by its name, in the combination of options that the name says."""

from __future__ import annotations

from pathlib import Path

from generator.checks.subject import JobSubject
from generator.findings import Place, Severity, Unreadable, mistake, near_miss
from generator.judging.judged import Judged
from generator.judging.recipes import judge
from generator.recipe.library import Library


def named_conversion(library: Library, name: str) -> JobSubject:
    """Return the conversion of a name or file; `<conversion>--<option>` is one of its combinations.

    Raises Unreadable where there is none, or where its wiring has an error.
    """
    file = Path(name)
    stem = file.stem if file.suffix == ".yaml" else name
    path = file if file.suffix == ".yaml" else _path(library, name)
    every = {job.subject.job.name: job for job in judge(library, library.source(path))
             if isinstance(job.subject, JobSubject)}
    if stem not in every:
        raise _missing(name, every)
    return _sound(every[stem])


def _path(library: Library, name: str) -> Path:
    known = {path.stem: path for path in library.files("conversions")}
    stem = name.partition("--")[0]
    if stem not in known:
        raise _missing(name, known)
    return known[stem]


def _missing(name: str, known: dict[str, Path] | dict[str, Judged]) -> Unreadable:
    return Unreadable([mistake(
        "no-such-file", f"`{name}` is not there.", Place(name, 1, 1), found="nothing",
        expected="a conversion's name or file", hint=near_miss(name, known))])


def _sound(judged: Judged) -> JobSubject:
    wrong = [f for f in judged.findings if f.severity is Severity.ERROR]
    if wrong:
        raise Unreadable(wrong)
    assert isinstance(judged.subject, JobSubject)
    return judged.subject
