"""Checks where each core lands: at both ends or made safe, in the colour of the tail."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, Place, mistake
from generator.recipe.placed import Core
from generator.recipe.wall import Laid, Wall


def landing_mistakes(wall: Wall) -> Iterator[Finding]:
    """Yield what is wrong with the ends of every core and link."""
    for designation, laid in wall.system.cables.items():
        for colour, core in laid.cores.items():
            at = ("cables", designation, "cores", colour)
            place = wall.source.key_place(*at)
            yield from _fate(f"core `{colour}` of `{designation}`", core, place)
            for end, terminal in (("from", core.from_), ("to", core.to)):
                if terminal is not None and designation in wall.cables:
                    yield from _tail(wall, wall.cables[designation], colour, terminal,
                                     wall.source.place(*at, end))
    for name, link in wall.system.links.items():
        if link.from_ == link.to:
            yield _nowhere(f"link `{name}`", link.to, wall.source.place("links", name, "to"))


def _fate(called: str, core: Core, place: Place) -> Iterator[Finding]:
    ends = [end for end in (core.from_, core.to) if end is not None]
    if len(ends) < 2:
        if not core.made_safe:
            yield mistake(
                "core-half-landed", f"The {called} does not say where both ends go.", place,
                found=f"{len(ends)} of 2 ends", expected="`from:` and `to:`, or `made-safe:`")
        return
    if core.made_safe:
        yield mistake(
            "core-landed-and-made-safe", f"The {called} lands at both ends and is made safe.",
            place, found="`from:`, `to:` and `made-safe:`",
            expected="`from:` and `to:`, or `made-safe:`")
    if ends[0] == ends[1]:
        yield _nowhere(called, ends[0], place)
    if not core.does:
        yield mistake(
            "missing-key", f"The {called} does not say what it does.", place,
            found="no `does:`", expected="`does:` What it does, for example: switched live, "
                                         "hot water.")


def _nowhere(called: str, terminal: str, place: Place) -> Finding:
    return mistake(
        "ends-on-one-terminal", f"The {called} begins and ends on the same terminal.", place,
        found=f"`{terminal}` twice", expected="two terminals")


def _tail(wall: Wall, laid: Laid, colour: str, terminal: str, place: Place) -> Iterator[Finding]:
    designation, name = terminal.split(":")
    mounted = wall.parts.get(designation)
    known = mounted.part.terminals.get(name) if mounted else None
    if mounted is None or known is None or known.tail in (None, colour):
        return
    own = [other for other, each in mounted.part.terminals.items() if each.tail == colour]
    yield mistake(
        "other-core-than-tail", f"The part comes with the core `{known.tail}` on `{terminal}`.",
        place, mounted.source.place("terminals", name, "tail").noted("its own flex is told here"),
        found=f"`{colour}` of `{laid.designation}`", expected=f"`{known.tail}`",
        hint=f"`{colour}` comes on `{designation}:{own[0]}`" if own
        else "write the flex that the part comes with as a cable of its own")
