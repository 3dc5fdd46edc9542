"""Tests with the supply on: set this, wait, see this, read this; all of it from the model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.checks.subject import Subject
from generator.circuit.elements import Load, Supply, Variable, Zone
from generator.circuit.path import find_path
from generator.circuit.reading import reading
from generator.sitework.competence import opener
from generator.sitework.expected import (
    Expectation,
    Traced,
    expectation,
    is_isolated,
    neutrals,
    readings,
    stages_of,
    traced,
)
from generator.sitework.overrun import (
    AT_ONCE,
    BRIEF,
    ENDED,
    FLOW,
    RUNS_ON,
    called_over,
    cut,
    ends_of_overrun,
    neutral_way,
    overruns,
    without_power,
)
from generator.sitework.settings import SUPPLYING
from generator.sitework.trials import Trial, Trials


@dataclass(frozen=True)
class Setting:
    """One switch to set: its part, what people call both, the word to set it to, and how."""

    part: str
    switch: str
    word: str
    how: str


@dataclass(frozen=True)
class LiveTest:
    """One setting of the controls with everything that must be seen and read.

    `reads` are the readings without which a fault would be missed; `readings` are all at the strip.
    `cautions` say who opens what for it, and what it cuts short.
    """

    name: str
    safety: bool
    isolated: bool
    to_earth: bool
    settings: tuple[Setting, ...]
    wait: tuple[str, ...]
    seen: tuple[tuple[str, str], ...]
    reads: tuple[Expectation, ...]
    readings: tuple[Expectation, ...]
    traced: tuple[Traced, ...]
    shows: tuple[str, ...]
    cautions: tuple[str, ...] = ()


def live_tests(subject: Subject, tried: Trials) -> tuple[LiveTest, ...]:
    """Return a test for each trial, in order, with what the model predicts for it.

    How a switch is set is said only where its word changes from one test to the next.
    """
    start = sum(1 << v for v, variable in enumerate(subject.circuit.variables)
                if variable.kind in SUPPLYING)
    every = (*_with_overrun(subject, tried.trials), *((trial, None) for trial in tried.further))
    before = [start, *(trial.setting for trial, _ in every)]
    return tuple(_test(subject, tried.moved, trial, earlier, first=trial is every[0][0])
                 if held is None else _running_on(subject, tried.moved, trial, earlier, held)
                 for (trial, held), earlier in zip(every, before, strict=False))


def _with_overrun(subject: Subject, trials: Sequence[Trial]
                  ) -> Iterator[tuple[Trial, int | None]]:
    """Yield the trials, and among them that of an overrun with the state it is seen in.

    It comes after the last trial in which the pump is run, for the burner is on then.
    """
    held = sum(1 << device.variable for device in overruns(subject))
    states = {trial: subject.motion.settle(trial.setting) for trial in trials}
    last = next((trial for trial in reversed(trials) if states[trial] & held), None)
    for trial in trials:
        yield trial, None
        if trial is last:
            state = subject.motion.settle(states[trial] & ~_calls(subject)) | held
            yield _overrun(subject, trial, state), state


def _overrun(subject: Subject, running: Trial, state: int) -> Trial:
    neutral = neutral_way(subject)
    # A valve that stays where it was may leave something between live and neutral.
    reads = tuple((way, neutral) for way in called_over(subject) if neutral
                  and reading(subject.potentials, state, way, neutral).volts is not None)
    return Trial(RUNS_ON, running.setting & ~_calls(subject), True, reads, ())


def _calls(subject: Subject) -> int:
    return sum(1 << v for v, variable in enumerate(subject.circuit.variables)
               if variable.kind == "call")


def _running_on(
    subject: Subject, moved: tuple[int, ...], trial: Trial, earlier: int, state: int
) -> LiveTest:
    test = _test(subject, moved, trial, earlier, first=False, seen_in=state)
    return replace(test, seen=(*test.seen, *ends_of_overrun(subject)),
                   cautions=(*test.cautions, FLOW))


def _test(
    subject: Subject, moved: tuple[int, ...], trial: Trial, earlier: int, first: bool,
    seen_in: int | None = None
) -> LiveTest:
    state = subject.motion.settle(trial.setting) if seen_in is None else seen_in
    changed = trial.setting ^ earlier
    if first:
        # How warm the water is nobody knows beforehand: a dial is set before the first test too.
        changed |= sum(1 << v for v, variable in enumerate(subject.circuit.variables)
                       if variable.kind == "temperature" and v in moved)
    set_here = [v for v in range(subject.potentials.space.count) if v in moved or changed >> v & 1]
    # What needs power is set while there is some: isolators come last.
    set_here.sort(key=lambda v: subject.circuit.variables[v].kind in SUPPLYING)
    isolated = is_isolated(subject, state)
    afresh = () if first or isolated or seen_in is not None else _afresh(subject)
    return LiveTest(
        trial.name, trial.safety, isolated, isolated and not neutrals(subject, state),
        (*afresh, *(_setting(subject, v, trial.setting, changed) for v in set_here)),
        tuple(_waits(subject, state)), tuple(_seen(subject, state)),
        tuple(expectation(subject, state, *pair)
              for pair in dict.fromkeys([*trial.reads, *_round_a_cut_out(subject, trial.setting)])),
        tuple(readings(subject, state)), tuple(traced(subject, state)), trial.shows,
        (*_who(subject, changed), *((BRIEF,) if any(cut(subject, state)) else ())))


def _who(subject: Subject, changed: int) -> Iterator[str]:
    """Yield who opens the part at which a core comes off, or goes back, for a cut-out."""
    for v, variable in enumerate(subject.circuit.variables):
        if variable.kind == "cut-out" and changed >> v & 1:
            box = subject.outermost(variable.part)
            bare = [f"-{name}" for name in subject.wall.parts if subject.outermost(name) == box]
            dead = f"Cover off {' and '.join(bare)}: each proved dead first, as in section 4."
            card = opener(subject.wall.parts[variable.part], subject.wall) == "unvented"
            yield f"Only a person competent for unvented hot water. {dead}" if card else dead


def _round_a_cut_out(subject: Subject, setting: int) -> Iterator[tuple[str, str]]:
    """Yield the readings at the strip on either side of a cut-out that is tripped in a setting.

    The thermostat before it may be open too, and then the test would pass whatever the cut-out did.
    """
    neutral = neutral_way(subject)
    for zone in subject.circuit.zones:
        tripped = sum(1 << v for v, value in zone.cut_out if value)
        if not neutral or not tripped or setting & tripped != tripped:
            continue
        healthy = subject.motion.settle(setting & ~tripped)
        for load in _stopped(subject, zone):
            path = find_path(subject.circuit, healthy, subject.lines(), load.a)
            for stage in stages_of(subject, path.terminals)[-2:] if path else ():
                yield stage.terminal, neutral


def _stopped(subject: Subject, zone: Zone) -> tuple[Load, ...]:
    """Return the loads that a zone's cut-out stops: the motors of its valve, else its source."""
    if zone.valve and not subject.one_of_several(zone):
        return subject.motors(zone)
    return tuple(map(subject.deciding, subject.own_sources(zone)))


def _setting(subject: Subject, variable: int, setting: int, changed: int) -> Setting:
    named = subject.circuit.variables[variable]
    part, _, switch = named.name.partition(".")
    mounted = subject.wall.parts[part]
    shape, worked = mounted.part.switches[switch], bool(setting >> variable & 1)
    how = (shape.how if worked else shape.how_back) if changed >> variable & 1 else ""
    if how and named.kind == "cut-out" and overruns(subject):
        how = f"First {ENDED}. {how}"
    return Setting(f"-{part} {mounted.called}", shape.says or switch, named.words[worked], how)


def _afresh(subject: Subject) -> tuple[Setting, ...]:
    """Return what brings to rest a valve that would stand where the last test left it.

    What a test shows is worked out from rest, where every device is once it has had no power.
    """
    circuit = subject.circuit
    held = [circuit.variables[v] for v, _ in subject.motion.memories()]
    if not held:
        return ()
    named = " and ".join(dict.fromkeys(f"-{variable.part}" for variable in held))
    before = ENDED if overruns(subject) else "every call off"
    how = (f"With {before}. Off until {named} has gone back, about a minute (our figure). "
           "Without this it may stand where the last test left it. Only then set:")
    (v, off), *_ = next(supply.isolated for supply in circuit.supplies
                        if _feeds(subject, supply, {variable.part for variable in held}))
    part, _, switch = circuit.variables[v].name.partition(".")
    mounted, words = subject.wall.parts[part], circuit.variables[v].words
    return (Setting(f"-{part} {mounted.called}", mounted.part.switches[switch].says or switch,
                    f"{words[off]}, then {words[not off]}", how),)


def _feeds(subject: Subject, supply: Supply, parts: set[str]) -> bool:
    """Return whether a supply's line can come to a load of one of these parts."""
    line = subject.potentials.line_of[supply.name]
    return any(subject.potentials.at(line, load.a) & subject.reachable
               for load in subject.circuit.loads if load.part in parts)


def _waits(subject: Subject, state: int) -> Iterator[str]:
    yield from (f"-{part} and its pump stop at once" for part in cut(subject, state))
    for device in subject.circuit.devices:
        variable = subject.circuit.variables[device.variable]
        part, _, name = variable.name.partition(".")
        position = subject.wall.parts[part].part.positions[name]
        if without_power(subject, device, state):
            continue
        moves = ", ".join(filter(None, (f"-{part}", _one_of_several(subject, variable))))
        there = bool(state >> device.variable & 1)
        time = position.opens_in if there else position.shuts_in
        if time != AT_ONCE:
            yield f"{moves} takes {time} to be {position.worked if there else position.rest}"


def _one_of_several(subject: Subject, variable: Variable) -> str:
    """Return the name of a position, where its part has more than one of them."""
    several = len(subject.wall.parts[variable.part].part.positions) > 1
    return variable.name.partition(".")[2].replace("-", " ") if several else ""


def _seen(subject: Subject, state: int) -> Iterator[tuple[str, str]]:
    """Yield what moves, what pumps and what fires; what moves inside a boiler by its name too."""
    for device in subject.circuit.devices:
        variable = subject.circuit.variables[device.variable]
        mounted = subject.wall.parts[variable.part]
        inner = variable.name.partition(".")[2].replace("-", " ") if mounted.part.heat \
            else _one_of_several(subject, variable)
        yield (", ".join(filter(None, (f"-{variable.part} {mounted.called}", inner))),
               variable.words[state >> device.variable & 1])
    for load in subject.circuit.loads:
        if load.kind == "pump":
            runs = subject.potentials.runs(load) >> state & 1
            yield (f"-{load.part} {subject.wall.parts[load.part].called}",
                   "runs" if runs else "stands still")
    for source in subject.circuit.heat_sources:
        part, _, word = source.name.partition(".")
        fires = subject.potentials.fires(source)
        if not fires & subject.reachable:
            continue
        yield f"-{part} {word}", "on" if fires >> state & 1 else "off"
