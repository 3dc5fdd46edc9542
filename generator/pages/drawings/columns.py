"""Which part stands where: a spine, and a column on each side of it."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from generator.pages.drawings.sheet import Box, Wire, Wiring


@dataclass(frozen=True)
class Stand:
    """Parts wired together: the spine, and the parts on both sides of it from top to bottom."""

    spine: Box | None
    left: tuple[Box, ...]
    right: tuple[Box, ...]
    wires: tuple[Wire, ...]


def stands(wiring: Wiring) -> tuple[Stand, ...]:
    """One stand for each set of parts wired together, largest first; parts without wires last."""
    groups = _together(wiring.boxes, wiring.wires)
    wired = [(group, _within(group, wiring.wires)) for group in groups]
    loners = tuple(box for group, wires in wired for box in group if not wires)
    found = [_stand(group, wires) for group, wires in wired if wires]
    found.sort(key=lambda stand: -len(stand.wires))
    return (*found, _spineless(loners)) if loners else tuple(found)


def home(boxes: Iterable[Box]) -> dict[str, Box]:
    """The part that each terminal belongs to."""
    return {pin.terminal: box for box in boxes for pin in box.pins}


def _stand(group: tuple[Box, ...], wires: tuple[Wire, ...]) -> Stand:
    ends = Counter(end for wire in wires for end in (wire.start, wire.end))
    spine = min(group, key=lambda box: _rank(box, ends))
    others = tuple(box for box in group if box is not spine)
    of_spine = {pin.terminal for pin in spine.pins}
    beside = tuple(wire for wire in wires if not {wire.start, wire.end} & of_spine)
    sides: dict[bool, list[Box]] = {True: [], False: []}
    for companions in _together(others, beside):
        driven = 2 * sum(box.driven for box in companions) > len(companions)
        sides[driven].extend(companions)
    return Stand(spine, tuple(sides[False]), tuple(sides[True]), wires)


def _spineless(boxes: tuple[Box, ...]) -> Stand:
    left = tuple(box for box in boxes if not box.driven)
    return Stand(None, left, tuple(box for box in boxes if box.driven), ())


def _rank(box: Box, ends: Counter[str]) -> tuple[bool, int, str]:
    """Terminals, letter X in IEC 81346-2, come before all else; then the part with most ends."""
    return (
        not box.designation.startswith("X"),
        -sum(ends[pin.terminal] for pin in box.pins),
        box.designation,
    )


def _within(group: tuple[Box, ...], wires: tuple[Wire, ...]) -> tuple[Wire, ...]:
    inside = home(group)
    return tuple(wire for wire in wires if wire.start in inside)


def _together(boxes: tuple[Box, ...], wires: tuple[Wire, ...]) -> list[tuple[Box, ...]]:
    """Parts that are wired to each other, directly or through others, in the order given."""
    place = home(boxes)
    group = {box.designation: {box.designation} for box in boxes}
    for wire in wires:
        joined = group[place[wire.start].designation] | group[place[wire.end].designation]
        group.update(dict.fromkeys(joined, joined))
    firsts = dict.fromkeys(min(group[box.designation]) for box in boxes)
    return [tuple(box for box in boxes if first in group[box.designation]) for first in firsts]
