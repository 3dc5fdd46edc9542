"""From a part to the values the drawing of its inside is made of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from generator.circuit.reach import Nets, nets
from generator.pages.circuit_words import LETTERS
from generator.pages.drawings.circuit_values import (
    CircuitSheet,
    Element,
    Feed,
    Look,
    Net,
    Source,
)
from generator.pages.drawings.inner_values import InnerSheet
from generator.recipe.articles import Contact, Load, Part, SwitchKind

_INSIDE = "inside"
"""The row of terminals that nobody can reach without opening the part."""
_DRAWN = 2
"""Terminals joined for good that are drawn with the circuit; more stand in a frame of their own."""


def inner_sheet(part: Part) -> InnerSheet:
    """Return the inside of a part: what its terminals are joined by, and what stands alone."""
    joined = nets(part.terminals, part.joints.values())
    elements = (*_contacts(part, joined), *_loads(part, joined))
    groups = {group[0]: group for group in joined.terminals()}
    parting = tuple(element for element in elements if element.a != element.b)
    met = {net for element in parting for net in (element.a, element.b)}
    known = {name: _net(part, group) for name, group in groups.items()}
    roots, feet = _ends(parting, {n: net for n, net in known.items() if n in met})
    source = Source("part", Feed.PART, part.name, roots, feet)
    circuit = CircuitSheet(
        f"Inside: {part.name}", _described(part), (source,) if roots else (), elements,
        known)
    rest = [group for name, group in groups.items() if name not in met]
    alone = (group[0] for group in rest if len(group) == 1)
    many = [group for name, group in groups.items() if name in met and _framed(part, group)]
    return InnerSheet(circuit, (*many, *(group for group in rest if len(group) > 1)),
                      tuple(name for name in alone if name not in part.closed),
                      tuple(part.closed), tuple(_times(part)))


def _described(part: Part) -> str:
    known = "Its inside is not known. " if part.closed else ""
    return (f"{known}{len(part.terminals)} terminals, {len(part.contacts)} contacts, "
            f"{len(part.loads)} loads; drawn at rest, without power. The tables below say the "
            "same in words.")


def _net(part: Part, group: tuple[str, ...]) -> Net:
    inside = tuple(t for t in group if part.terminals[t].row == _INSIDE)
    edge = tuple(t for t in group if t not in inside)
    name = ", ".join(group)
    if _framed(part, group):
        return Net("", edge[0], f"joined: {name}", edge[:1])
    return Net(", ".join(inside), name, f"joined: {name}", edge)


def _framed(part: Part, group: tuple[str, ...]) -> bool:
    """Tell whether terminals joined for good are told apart in a frame below the circuit."""
    inside = sum(part.terminals[t].row == _INSIDE for t in group)
    return inside < len(group) and (len(group) > _DRAWN or inside > 0)


def _first(joined: Nets, terminal: str) -> str:
    return joined.terminals()[joined.of[terminal]][0]


def _contacts(part: Part, joined: Nets) -> Iterator[Element]:
    for name, contact in part.contacts.items():
        lines = tuple(f"{switch} {word}" for switch, word in contact.closed_while.items())
        a, b = contact.between
        look = _look(part, contact)
        state = "closed" if look is Look.BREAK else "open"
        said = "fuse" if look is Look.FUSE else f"closed while {', '.join(lines)}; drawn {state}"
        only = next(iter(contact.closed_while)) if len(contact.closed_while) == 1 else ""
        yield Element(f"contact-{name}", look, "", lines, _first(joined, a), _first(joined, b),
                      f"contact {a} to {b}: {said}", worked_by=only)


def _look(part: Part, contact: Contact) -> Look:
    kinds = {part.switches[s].kind for s in contact.closed_while if s in part.switches}
    if kinds == {SwitchKind.FUSE}:
        return Look.FUSE
    if all(word == _rest(part, switch) for switch, word in contact.closed_while.items()):
        return Look.BREAK
    return Look.ISOLATOR if kinds == {SwitchKind.ISOLATOR} else Look.MAKE


def _rest(part: Part, switch: str) -> str:
    return (part.switches.get(switch) or part.positions[switch]).rest


def _loads(part: Part, joined: Nets) -> Iterator[Element]:
    for name, load in part.loads.items():
        a, b = load.between
        words = load.says.partition(";")[0] or name
        yield Element(f"load-{name}", Look.LOAD, "", (words, _watts(load)),
                      _first(joined, a), _first(joined, b),
                      f"{words}, {_watts(load)}, {a} to {b}", letter=LETTERS[load.kind.value])


def _watts(load: Load) -> str:
    return f"{load.watts:g} to {load.up_to:g} W" if load.up_to else f"{load.watts:g} W"


def _ends(
    elements: tuple[Element, ...], names: Mapping[str, Net]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the nets that stand at the top, where current comes in, and those at the foot.

    Every group of nets that belong together has one at the top, even if current may come in
    anywhere.
    """
    comes_in, goes_out = {e.a for e in elements}, {e.b for e in elements}
    returns = {e.b for e in elements if e.look is Look.LOAD and names[e.b].edge} - comes_in
    roots = [n for n in names if n not in goes_out and n not in returns]
    while missing := [n for n in names if n not in _reached(roots, returns, elements)]:
        roots.append(missing[0])
    feet = tuple(n for n in names if n in returns and n not in roots)
    return tuple(n for n in names if n in roots), feet


def _reached(
    roots: Iterable[str], returns: set[str], elements: tuple[Element, ...]
) -> set[str]:
    """Return the nets that hang on roots; nothing hangs on a net at the foot."""
    reached, before = set(roots), set[str]()
    while reached != before:
        before = set(reached)
        above = before - (returns - set(roots))
        reached |= {net for e in elements if {e.a, e.b} & above for net in (e.a, e.b)}
    return reached


def _times(part: Part) -> Iterator[tuple[str, str]]:
    """Yield each position with how it moves and how long that takes."""
    for name, position in part.positions.items():
        yield name, (f"{position.rest} without power; {position.worked} while "
                     f"{position.moves_while} ({position.opens_in}); back: {position.shuts_in}")
