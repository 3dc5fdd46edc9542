"""What the drawing of a part's inside shows, before anything has a place."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.drawings.circuit_values import CircuitSheet


@dataclass(frozen=True)
class InnerSheet:
    """The circuit inside, terminals joined for good, alone, and of a closed circuit; positions.

    Each position is its name, and in words how it moves and how long that takes.
    """

    circuit: CircuitSheet
    joined: tuple[tuple[str, ...], ...]
    alone: tuple[str, ...]
    closed: tuple[str, ...]
    positions: tuple[tuple[str, str], ...]
