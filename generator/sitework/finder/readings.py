"""What a person says of a reading with the supply on: the whole of it, a part, nothing, or none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.circuit.nodal import VOLTS
from generator.circuit.potentials import Potentials, table_or
from generator.circuit.reading import ABOUT, SHOWN, Reading, reading
from generator.circuit.tables import Table
from generator.sitework.finder.measurement import NOTHING, PART, WHOLE
from generator.sitework.signs import Shown, reading_signs

LEAST_PART, MOST_PART = 0.1, 0.7
"""Share of 230 V within which everybody says "a part of it"; a judgement, no source."""
DOUBTFUL = ""
"""Said where two people may say differently, or where electronics decide."""

Pair = tuple[str, str]


def read_at(potentials: Potentials, states: Mapping[int, int], signs: Shown,
            pairs: Iterable[Pair]) -> Mapping[int, Mapping[Pair, str]]:
    """Return what is said between each pair by setting, in the state that each comes to.

    `signs` tell where anything is shown. Only what hangs on loads is computed: it takes some
    hundred times as long.
    """
    hard = {end: _hard(potentials, end) for pair in pairs for end in pair}
    tables = [(pair, _driven(signs, pair), hard[pair[0]] & hard[pair[1]]) for pair in pairs]
    return {setting: {pair: NOTHING if not driven >> state & 1
                      else WHOLE if whole >> state & 1
                      else said(reading(potentials, state, *pair))
                      for pair, driven, whole in tables}
            for setting, state in states.items()}


def _driven(signs: Shown, pair: Pair) -> Table:
    return table_or(signs[sign] for sign in reading_signs(pair))


def _hard(potentials: Potentials, terminal: str) -> Table:
    """Return where a terminal is joined to line, neutral or earth over no load."""
    poles = (potentials.line, potentials.neutral, potentials.earth)
    return table_or(potentials.at(pole, terminal) for pole in poles)


def said(shown: Reading) -> str:
    """Return the answer to a reading, DOUBTFUL where two people may say differently."""
    if shown.span is None and shown.volts is None:
        return DOUBTFUL
    least, most = shown.span or (shown.volts or 0.0, shown.volts or 0.0)
    if most < SHOWN:
        return NOTHING
    if least >= ABOUT * VOLTS:
        return WHOLE
    return PART if least >= LEAST_PART * VOLTS and most <= MOST_PART * VOLTS else DOUBTFUL
