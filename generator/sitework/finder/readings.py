"""What a person says of a reading with the supply on: the whole of it, a part, nothing, or none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.circuit.nodal import VOLTS
from generator.circuit.potentials import Potentials
from generator.circuit.reading import ABOUT, SHOWN, Reading, reading
from generator.sitework.finder.measurement import NOTHING, PART, WHOLE
from generator.sitework.signs import Means, Shown, Sign

LEAST_PART, MOST_PART = 0.1, 0.7
"""Share of 230 V within which everybody says "a part of it"; a judgement, no source."""
DOUBTFUL = ""
"""Said where two people may say differently, or where electronics decide."""

Pair = tuple[str, str]


def read_at(potentials: Potentials, state: int, signs: Shown, pairs: Iterable[Pair]
            ) -> Mapping[Pair, str]:
    """Return what is said between each pair in a state; `signs` tell where anything is shown.

    Only what hangs on loads is computed: it takes some hundred times as long.
    """
    hard = {end: _hard(potentials, state, end) for pair in pairs for end in pair}
    return {pair: NOTHING if not _drives(signs, state, pair)
            else WHOLE if hard[pair[0]] and hard[pair[1]]
            else said(reading(potentials, state, *pair)) for pair in pairs}


def _drives(signs: Shown, state: int, pair: Pair) -> bool:
    tables = (signs[Sign(Means.READ, pair[0], word, pair)] for word in ("230 V", "a part"))
    return any(table >> state & 1 for table in tables)


def _hard(potentials: Potentials, state: int, terminal: str) -> bool:
    """Tell whether a terminal is joined to line, neutral or earth over no load."""
    poles = (potentials.line, potentials.neutral, potentials.earth)
    return any(potentials.at(pole, terminal) >> state & 1 for pole in poles)


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
