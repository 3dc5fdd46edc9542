"""What the author says must happen, held against the model in every settled state it covers."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import JobSubject, Subject
from generator.circuit.tables import Table
from generator.findings import Finding, Severity
from generator.recipe.wall import outcome_words
from generator.recipe.words import Expected


def judge(subject: JobSubject) -> Verdict:
    """Ask of every outcome of every case that the author expects of the fitted system."""
    cases = subject.job.conversion.expect
    return verdict(sum(len(case.then) for case in cases), "outcomes that the author expects",
                   (f for i, case in enumerate(cases) for f in _case(subject, i, case)))


def _case(subject: JobSubject, i: int, case: Expected) -> Iterator[Finding]:
    covered = subject.covered(case)
    if not covered:
        yield Finding(
            RULE.name, RULE.severity, f"The case “{case.name}” never occurs.",
            (subject.job.source.key_place("expect", i, "when"),),
            found="no state that can come about and has come to rest has these settings",
            expected="a case that can be set up on site")
    for what, word in case.then.items() if covered else ():
        yield from _outcome(subject, (i, case, what, word), covered)


def _outcome(
    subject: JobSubject, expected: tuple[int, Expected, str, str], covered: Table
) -> Iterator[Finding]:
    i, case, what, word = expected
    fitted = subject.fitted
    name, words = _named(fitted, what)
    happens = _happens(fitted, name)
    other = covered & ~(happens if word == words[1] else ~happens)
    if other:
        yield Finding(
            RULE.name, RULE.severity,
            f"`{name}` is not {word} in the case “{case.name}”.",
            (subject.job.source.place("expect", i, "then", what),),
            found=f"{words[word == words[0]]} in {count(other)} of the {count(covered)} settled "
                  "states of this case",
            expected=f"{word}, as the conversion says",
            hint="mend the wiring, or say what the wiring really does",
            state=fitted.shown(other, covered))


def _named(fitted: Subject, what: str) -> tuple[str, tuple[str, str]]:
    """Return the full name of an outcome and its two words; a bare part means its first one."""
    designation, _, name = what.partition(".")
    words = outcome_words(fitted.wall, designation)
    name = name or next(iter(words))
    return f"{designation}.{name}", words[name]


def _happens(fitted: Subject, name: str) -> Table:
    """Return where a position is worked, a heat source fires or a load runs."""
    if name in fitted.circuit.index:
        return fitted.potentials.space.variables[fitted.circuit.index[name]]
    for source in fitted.circuit.heat_sources:
        if source.name == name:
            return fitted.potentials.fires(source)
    return fitted.potentials.runs(fitted.circuit.load[name])


RULE = Rule(
    "behaviour-unlike-expected",
    "Wiring behaves unlike the author expects",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "what is tested on every job is what the author says must happen"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 8.2 and 8.3: a plan "
                               "says what is tested and how"),
    ),
    judge,
)
