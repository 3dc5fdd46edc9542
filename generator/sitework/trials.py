"""Which settings are tried with the supply on: the fewest that show what no dead test shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.faults import Fault
from generator.recipe.words import Expected
from generator.sitework.coverage import Coverage, Covered, Shows, differing
from generator.sitework.fewest import fewest
from generator.sitework.settings import Settings
from generator.sitework.signs import Means, Shown, Sign


@dataclass(frozen=True)
class Trial:
    """One setting of the switches: its name, the readings it needs, the faults first shown here."""

    name: str
    setting: int
    safety: bool
    reads: tuple[tuple[str, str], ...]
    shows: tuple[str, ...]


@dataclass(frozen=True)
class Trials:
    """The settings in the order in which they are tried, and how few there could be at least.

    `further` are the author's cases that are not among them; they show function, and no fault that
    was not shown before. `moved` are the switches that are set in any; `missed` are faults that
    would show only in a setting that nobody tries, as with one isolator off and another on.
    """

    trials: tuple[Trial, ...]
    further: tuple[Trial, ...]
    moved: tuple[int, ...]
    missed: tuple[Fault, ...]
    at_least: int
    reads_at_least: int


def trials(subject: Subject, coverage: Coverage, cases: Sequence[Expected] = ()) -> Trials:
    """Return the fewest trials that show every fault no dead test shows, in an order of few moves.

    Always among them: nothing calls; each cut-out tripped while everything calls, and after it its
    zone's own call; isolated while everything calls; and the cases the author marks as safety.
    """
    settings = Settings(subject, coverage, [case for case in cases if case.safety and case.tried])
    remaining = [c for c in coverage.faults if Shows.DEAD not in c.shows and _live(c)]
    needs = [settings.bits(differing(c.signs, coverage.healthy)) for c in remaining]
    missed = tuple(c.fault for c, need in zip(remaining, needs, strict=True) if not need)
    chosen = fewest(needs, settings.given)
    order = settings.ordered(chosen.taken)
    reads, reads_at_least = _reads(settings, coverage, remaining, order)
    return Trials(tuple(_trials(settings, coverage, remaining, order, reads, cases)),
                  tuple(_further(settings, order, cases)), tuple(settings.moved), missed,
                  chosen.at_least, reads_at_least)


def _live(covered: Covered) -> bool:
    return Shows.FUNCTION in covered.shows or Shows.READING in covered.shows


def _reads(
    settings: Settings, coverage: Coverage, remaining: list[Covered], order: tuple[int, ...]
) -> tuple[dict[int, list[tuple[str, str]]], int]:
    """Return the fewest readings, by setting, for what function does not show in these settings."""
    options: list[tuple[int, tuple[str, str]]] = []
    needs = []
    for covered in remaining:
        if any(_seen_at(settings, coverage, covered.signs, i) for i in order):
            continue
        need = 0
        for i in order:
            for pair in _read_at(settings, coverage, covered.signs, i):
                if (i, pair) not in options:
                    options.append((i, pair))
                need |= 1 << options.index((i, pair))
        needs.append(need)
    chosen = fewest(needs)
    by_setting: dict[int, list[tuple[str, str]]] = {}
    for number in chosen.taken:
        by_setting.setdefault(options[number][0], []).append(options[number][1])
    return by_setting, chosen.at_least


def _differ(settings: Settings, coverage: Coverage, signs: Shown, at: int) -> Iterator[Sign]:
    setting = settings.all[at]
    return (sign for sign, table in coverage.healthy.items()
            if (table ^ signs[sign]) >> setting & 1)


def _seen_at(settings: Settings, coverage: Coverage, signs: Shown, at: int) -> bool:
    return any(s.means is Means.SEEN for s in _differ(settings, coverage, signs, at))


def _read_at(settings: Settings, coverage: Coverage, signs: Shown, at: int
             ) -> Iterator[tuple[str, str]]:
    return (s.terminals for s in _differ(settings, coverage, signs, at) if s.terminals)


def _trials(
    settings: Settings, coverage: Coverage, remaining: list[Covered], order: tuple[int, ...],
    reads: dict[int, list[tuple[str, str]]], cases: Sequence[Expected],
) -> Iterator[Trial]:
    left = list(remaining)
    for i in order:
        wanted = tuple(reads.get(i, ()))
        shows = [c for c in left if _seen_at(settings, coverage, c.signs, i)
                 or set(wanted) & set(_read_at(settings, coverage, c.signs, i))]
        left = [c for c in left if c not in shows]
        yield Trial(_named(settings, i, cases), settings.all[i], i in settings.given, wanted,
                    tuple(c.fault.words for c in shows))


def _further(
    settings: Settings, order: tuple[int, ...], cases: Sequence[Expected]
) -> Iterator[Trial]:
    """Yield what the author wants tried and no trial tries: it shows function, no further fault."""
    done = {settings.all[i] for i in order}
    for case in cases:
        setting = settings.of_case(case)
        if case.tried and setting not in done:
            done.add(setting)
            yield Trial(case.name, setting, False, (), ())


def _named(settings: Settings, at: int, cases: Sequence[Expected]) -> str:
    """Return the author's name for a setting, or the settings themselves."""
    circuit, setting = settings.circuit, settings.all[at]
    words = {variable.name: variable.words[setting >> v & 1]
             for v, variable in enumerate(circuit.variables)}
    # What a case does not name of the isolators is on.
    off = {variable.name for v, variable in enumerate(circuit.variables)
           if variable.kind == "isolator" and not setting >> v & 1}
    isolated = at == settings.given[-1]
    fitting = [c for c in cases if c.when.items() <= words.items()
               and (off <= c.when.keys() or (isolated and off & c.when.keys()))]
    if fitting:
        # A zone that is tried again after its cut-out is called by the safety case that says so.
        again = at in settings.again
        return max(fitting, key=lambda c: (len(c.when), c.safety if again else not c.safety)).name
    if isolated:
        return "Isolated while everything calls"
    moved = [circuit.variables[v].name for v in settings.moved if setting >> v & 1]
    return ", ".join(f"{name} {words[name]}" for name in (*moved, *sorted(off))) or "Nothing calls"
