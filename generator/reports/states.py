"""Every settled state of a system: settings, positions, what runs, and what each terminal is."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.flat import Circuit
from generator.circuit.potentials import Potentials, Standing
from generator.circuit.tables import states

NOT_KNOWN = "not known"
"""Said of a terminal that a closed part decides."""


@dataclass(frozen=True)
class StateRow:
    """One settled state; `runs` names loads at full voltage and heat sources that fire."""

    settings: tuple[tuple[str, str], ...]
    positions: tuple[tuple[str, str], ...]
    runs: tuple[str, ...]
    terminals: tuple[tuple[str, str], ...]


def state_rows(subject: Subject) -> Iterator[StateRow]:
    """Yield every stable state that can be reached, in the order of the states."""
    circuit, potentials = subject.circuit, subject.potentials
    classes = {t.name: _classes(potentials, t.name) for t in circuit.terminals}
    running = {load.name: potentials.runs(load) for load in circuit.loads}
    running |= {source.name: potentials.fires(source) for source in circuit.heat_sources}
    for state in states(subject.settled):
        words = circuit.words(potentials.space.state_cube(state))
        moved = [variable.moves for variable in circuit.variables]
        yield StateRow(
            tuple(pair for pair, moves in zip(words, moved, strict=True) if not moves),
            tuple(pair for pair, moves in zip(words, moved, strict=True) if moves),
            tuple(name for name, table in running.items() if table >> state & 1),
            tuple((name, _class(tables, state)) for name, tables in classes.items()))


Classes = list[tuple[str, int]]


def _classes(potentials: Potentials, terminal: str) -> Classes:
    unknown = potentials.not_known(terminal)
    return [(NOT_KNOWN, unknown),
            *((standing.value, table) for standing, table
              in potentials.standings(terminal).items() if table)]


def _class(tables: Classes, state: int) -> str:
    return next(word for word, table in tables if table >> state & 1)


def _met(circuit: Circuit) -> set[str]:
    """Return the terminals on which something lands, or behind which something sits."""
    ends = [end for each in circuit.conductors for end in (each.a, each.b)]
    ends += [end for contact in circuit.contacts for end in (contact.a, contact.b)]
    return {*ends, *(end for load in circuit.loads for end in (load.a, load.b))}


def states_text(subject: Subject) -> Iterator[str]:
    """Yield the lines that `handbook states` prints.

    Ways on which nothing lands, and behind which nothing sits, are left out.
    """
    met = _met(subject.circuit)
    order = [*(standing.value for standing in Standing), NOT_KNOWN]
    for number, row in enumerate(state_rows(subject), 1):
        yield f"state {number}: " + ", ".join(f"{name} {word}" for name, word in row.settings)
        yield "  positions: " + (", ".join(f"{n} {w}" for n, w in row.positions) or "none")
        yield "  runs: " + (", ".join(row.runs) or "nothing")
        for word in order:
            there = [name for name, standing in row.terminals if standing == word and name in met]
            if there:
                yield f"  {word}: " + " ".join(there)
    yield f"{subject.settled.bit_count()} settled states of {subject.potentials.space.size} in all"


def states_json(subject: Subject) -> str:
    """Return one object with the list `states`; the form is described in DEVELOPERS.md."""
    rows = [{"settings": dict(row.settings), "positions": dict(row.positions),
             "runs": list(row.runs), "terminals": dict(row.terminals)}
            for row in state_rows(subject)]
    return json.dumps({"system": subject.wall.name, "states": rows}, indent=1, ensure_ascii=False)
