"""What a wiring drawing shows, before anything has a place: parts, terminals and wires."""

import re
from collections import Counter
from dataclasses import dataclass


@dataclass(frozen=True)
class Pin:
    """A terminal as drawn."""

    terminal: str
    label: str


@dataclass(frozen=True)
class Box:
    """A part as drawn; what is driven (valves, boiler) prefers the right column."""

    designation: str
    title: str
    pins: tuple[Pin, ...]
    driven: bool


@dataclass(frozen=True)
class Wire:
    """A core or a link; colours are IEC 60757 letters, empty for a bare link or no sleeve."""

    key: str
    start: str
    end: str
    colour: str
    sleeve: str
    net: str
    words: str
    fate: str = ""

    @property
    def letters(self) -> str:
        """The colour as written at both ends; brackets hold the sleeve as it holds the core."""
        return f"{self.colour}({self.sleeve})" if self.sleeve else self.colour


@dataclass(frozen=True)
class Wiring:
    """One drawing with its text alternative; ValueError where names are doubled or unknown."""

    title: str
    description: str
    boxes: tuple[Box, ...]
    wires: tuple[Wire, ...]

    def __post_init__(self) -> None:
        names = [
            *(mark("part", box.designation) for box in self.boxes),
            *(mark("terminal", pin.terminal) for box in self.boxes for pin in box.pins),
            *(mark("core", wire.key) for wire in self.wires),
        ]
        doubled = sorted(name for name, times in Counter(names).items() if times > 1)
        if doubled:
            raise ValueError(f"drawn twice: {', '.join(doubled)}")
        known = {pin.terminal for box in self.boxes for pin in box.pins}
        unknown = sorted({end for wire in self.wires for end in (wire.start, wire.end)} - known)
        if unknown:
            raise ValueError(f"wired but not drawn: {', '.join(unknown)}")


def mark(kind: str, name: str) -> str:
    """The id in the SVG of a part, a terminal or a core: `core-W6-BU` for W6.BU."""
    return f"{kind}-{re.sub(r'[^0-9A-Za-z_]', '-', name)}"
