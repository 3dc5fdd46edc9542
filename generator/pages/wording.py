"""How a conductor, a terminal and a state are written, the same on every page."""

from __future__ import annotations

from generator.recipe.forms import COLOURS


def conductor(colour: str, sleeve: str = "", does: str = "") -> str:
    """Return a conductor as it is always written: `BU sleeved BN · switched live, hot water`."""
    worn = f"{colour} sleeved {sleeve}" if sleeve else colour
    return f"{worn} · {does}" if does else worn


def terminal(name: str) -> str:
    """Return a terminal as it is always written, with the hyphen of IEC 81346: `-X1:7`."""
    return f"-{name}"


def spoken(colour: str) -> str:
    """Return the name of a colour for a reader who does not know the letters."""
    return COLOURS.get(colour, colour)
