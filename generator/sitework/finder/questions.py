"""A search in words: numbered questions, what each answer leads to, who opens what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.circuit.elements import VOLT_FREE, part_of
from generator.circuit.faults import FaultKind
from generator.circuit.tables import states
from generator.sitework.finder.choice import Ask, End, Tree
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.measurement import ANY, Kind, Measurement
from generator.sitework.finder.suspects import Suspect

WHO = {
    "gas": "only a person on the gas register opens it, unless its connection box lies outside the "
           "combustion seal",
    "oil": "only a person competent for oil firing opens it, unless its connection box lies "
           "outside the burner's cover",
    "unvented": "only a person competent for unvented hot water opens it",
}
"""Who may open what not every engineer may; as in section 2 of a conversion page."""
FOR = {
    "gas": "for a person on the gas register",
    "oil": "for a person competent for oil firing",
    "unvented": "a person competent for unvented hot water",
}
"""Whose work it is from there on."""


@dataclass(frozen=True)
class Answer:
    """What is found, and the number of the next question, or the faults that it can be then."""

    says: str
    then: int
    faults: tuple[str, ...] = ()


@dataclass(frozen=True)
class Question:
    """One step: what is done first, what is asked, and the answers.

    `live` with the supply on; a `detour` is met only after something could not be measured.
    """

    number: int
    first: tuple[str, ...]
    asks: str
    live: bool
    detour: bool
    answers: tuple[Answer, ...]
    could_not: Answer


def questions(ground: Ground, suspects: Sequence[Suspect], tree: Tree) -> tuple[Question, ...]:
    """Return the questions of a tree, numbered from 1, each once."""
    order = list(_asks(tree))
    numbers = {id(ask): number for number, ask in enumerate(order, 1)}
    straight = {id(ask) for ask in _asks(tree, detours=False)}

    def answer(says: str, then: Tree) -> Answer:
        if isinstance(then, End):
            return Answer(says, 0, faults_left(ground, suspects, then))
        return Answer(says, numbers[id(then)])

    return tuple(
        Question(number, tuple(_first(ground, ask)), _asked(ground, ask),
                 ask.measurement.kind is Kind.READ, id(ask) not in straight,
                 tuple(answer(says, then) for says, then in ask.answers),
                 answer("could not", ask.could_not))
        for number, ask in enumerate(order, 1))


def _asks(tree: Tree, detours: bool = True) -> Iterator[Ask]:
    """Yield every question once, a question before those it leads to, answers before detours."""
    known: set[int] = set()
    waiting = [tree]
    while waiting:
        ask = waiting.pop(0)
        if isinstance(ask, Ask) and id(ask) not in known:
            known.add(id(ask))
            yield ask
            around = [ask.could_not] if detours else []
            waiting = [*(then for _, then in ask.answers), *waiting, *around]


def faults_left(ground: Ground, suspects: Sequence[Suspect], end: End) -> tuple[str, ...]:
    """Return the faults that remain at an end, each with where to look."""
    return tuple(_where(ground, suspects[n]) for group in end.classes for n in group)


def _where(ground: Ground, suspect: Suspect) -> str:
    """Return a fault in words; of what is open or out, its two ends as well."""
    if suspect.fault.kind is FaultKind.DEAD:
        return suspect.fault.words + _hint(ground, suspect)
    if suspect.fault.kind is FaultKind.BURNT:
        return _lost(ground, suspect)
    if suspect.fault.kind not in (FaultKind.OPEN, FaultKind.MISSING):
        return suspect.fault.words
    kept = set(suspect.fault.circuit.conductors)
    lost = next(c for c in ground.subject.circuit.conductors if c not in kept)
    return f"{suspect.fault.words}, at `{lost.a}` or `{lost.b}`"


def _hint(ground: Ground, suspect: Suspect) -> str:
    """Return what is tried, or else could be, before a contact is blamed: a fuse, a cut-out."""
    kept = set(suspect.fault.circuit.contacts)
    lost = next(c for c in ground.subject.circuit.contacts if c not in kept)
    kinds = {ground.subject.circuit.variables[v].kind for v, _ in lost.when}
    if "cut-out" in kinds:
        who = FOR.get(ground.subject.wall.parts[lost.part].part.competence, "")
        return f", or it has tripped: do not press it; find out why{f'; {who}' if who else ''}"
    return ": measure the drawn fuse in your hand first" if "fuse" in kinds else ""


def _lost(ground: Ground, suspect: Suspect) -> str:
    """Return a load that does nothing, in words; of a heat source's call, what is read at it."""
    circuit = ground.subject.circuit
    lost = next(load for load in circuit.loads if load not in suspect.fault.circuit.loads)
    source = next((s for s in circuit.heat_sources if lost.name in s.loads), None)
    if source is None or lost.kind not in ("call input", VOLT_FREE):
        return suspect.fault.words
    who = FOR.get(ground.subject.wall.parts[lost.part].part.competence, "for its maker's service")
    word = source.name.partition(".")[2]
    read = "a joined pair at the call terminals" if lost.volt_free \
        else "230 V at the control input"
    return f"{read} with no {word}: the {_called(ground, lost.part)}'s own fault or lock-out, {who}"


def _first(ground: Ground, ask: Ask) -> Iterator[str]:
    """Yield what is done before a question, in order."""
    made, wanted = ask.moves, ask.measurement
    if made.isolated:
        again = " and ".join(f"-{lid}" for lid in made.again)
        yield f"Isolate, lock off, prove dead{f', at {again} too' if again else ''}."
    yield from (_opening(ground, lid) for lid in made.opened)
    if wanted.live:
        yield _covers(wanted)
        yield f"Controls set as in: {_case(ground, wanted.at)}."
    elif wanted.at != ANY and (dials := _dials(ground, wanted.at)):
        yield f"Dial: {dials}."
    if made.waited:
        yield "Wait until nothing moves."


def _opening(ground: Ground, lid: str) -> str:
    """Return how a box is opened, and by whom; its supply side is dead only from further back."""
    only = "; ".join(WHO[each] for each in sorted(ground.competences(lid) & WHO.keys()))
    who = f": {only}" if only else ""
    if lid in ground.fed:
        return ("First switch off its circuit at the consumer unit, lock it, keep the key; then "
                f"open {_box(ground, lid)}{who}; prove its supply side dead too.")
    return f"Open {_box(ground, lid)}{who}. Prove it dead as soon as it is open."


def _covers(wanted: Measurement) -> str:
    """Return which covers are on with the supply on, whatever was or was not done before."""
    if not wanted.lids:
        return "All covers on; supply on."
    if len(wanted.lids) == 1:
        return f"Only -{wanted.lids[0]}'s cover open; supply on."
    return f"Only the covers of {' and '.join(f'-{lid}' for lid in wanted.lids)} open; supply on."


def _asked(ground: Ground, ask: Ask) -> str:
    wanted = ask.measurement
    where = " to ".join(_probe(ground, wanted, terminal) for terminal in wanted.terminals)
    return {Kind.METER: f"Continuity, {where}.", Kind.LOOK: f"What lands on {where}?",
            Kind.READ: f"Read {where}.", Kind.SEE: "What runs?"}[wanted.kind]


def _probe(ground: Ground, wanted: Measurement, terminal: str) -> str:
    """Return where a probe is put: a terminal, or bare earthed metal where no cover is opened."""
    outside = wanted.kind is Kind.METER and not ground.lid(terminal)
    return f"earthed metal of -{part_of(terminal)}" if outside else f"-{terminal}"


def _called(ground: Ground, part: str) -> str:
    return ground.subject.wall.parts[part].called


def _box(ground: Ground, part: str) -> str:
    return f"-{part} {_called(ground, part)}"


def _case(ground: Ground, setting: int) -> str:
    return next(case.name for case in ground.cases if case.setting == setting)


def _dials(ground: Ground, at: int) -> str:
    """Return how the dials stand that any case turns."""
    turned = 0
    for case in ground.cases:
        turned |= (case.setting ^ ground.cases[0].setting) & ground.dials
    variables = ground.subject.circuit.variables
    return ", ".join(
        f"{_box(ground, variables[v].part)} {variables[v].words[at >> v & 1]}"
        for v in states(turned))
