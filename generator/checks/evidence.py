"""How a fault is shown: places in the files, the state that brings it about, the path through."""

from __future__ import annotations

from generator.circuit.elements import Conductor, Contact
from generator.circuit.path import Element, Path
from generator.findings import Place

Evidence = tuple[tuple[Place, ...], tuple[tuple[str, str], ...], tuple[str, ...]]
"""Places, state and path of a finding."""


def path_places(path: Path) -> tuple[Place, ...]:
    """Return where each element of a path was written, with a note that says what it is."""
    # What was wired here can be put right here: cores and links come before inner parts.
    steps = sorted(path.steps, key=lambda step: not _wired(step.through))
    places = (step.through.place.noted(note(step.through)) for step in steps)
    return tuple(dict.fromkeys(places))


def _wired(element: Element) -> bool:
    return isinstance(element, Conductor) and element.kind != "joint"


def nearest_first(path: Path) -> tuple[Place, ...]:
    """Return the places of a path for its far end: cores and links back from it, then the rest."""
    back = [step.through for step in reversed(path.steps)]
    own = [each for each in back if _wired(each)]
    rest = [each for each in back if each not in own]
    return tuple(dict.fromkeys(each.place.noted(note(each)) for each in [*own, *rest]))


def note(element: Element) -> str:
    """Return what an element is called in the note of a place."""
    if isinstance(element, Conductor):
        return f"{element.kind} {element.name}"
    kind = "contact" if isinstance(element, Contact) else element.kind
    return f"{kind} {element.name}"
