"""What opens and serves a zone, and checks that it exists."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, mistake
from generator.recipe.parts import second_half, unknown
from generator.recipe.wall import Wall


def zone_mistakes(wall: Wall) -> Iterator[Finding]:
    """Yield the zones that nothing serves, valves that do not move, and names of nothing."""
    for name, zone in wall.system.zones.items():
        if zone.valve is None and not zone.served_by:
            yield _unserved(wall, name)
        yield from _valve(wall, name, zone.valve or "")
        for i, server in enumerate(zone.served_by):
            yield from _server(wall, server, ("zones", name, "served-by", i))


def _unserved(wall: Wall, name: str) -> Finding:
    return mistake(
        "zone-without-service", f"Nothing opens or runs for the zone `{name}`.",
        wall.source.key_place("zones", name), found="neither `valve:` nor `served-by:`",
        expected="`valve:` with the valve that opens for it, or `served-by:` with what runs for it",
        hint="where no valve opens for it, name the burner and the pump: "
             "`served-by: [E1.burner, G1.motor]`")


def _valve(wall: Wall, zone: str, valve: str) -> Iterator[Finding]:
    designation, _, way = valve.partition(".")
    mounted, place = wall.parts.get(designation), wall.source.place("zones", zone, "valve")
    if mounted and not mounted.part.positions:
        yield mistake(
            "valve-without-position", f"`{designation}` is no valve: nothing in it moves.", place,
            found=f"`{designation}`, {mounted.part.name}", expected="a part with a position",
            hint="what runs for a zone without a valve stands under `served-by:`")
    elif mounted and way and way not in mounted.part.positions:
        yield unknown("position", way, mounted.part.positions, second_half(place, valve, way),
                      f"`{designation}`")


def _server(wall: Wall, server: str, path: tuple[str | int, ...]) -> Iterator[Finding]:
    designation, _, name = server.partition(".")
    if designation not in wall.parts:
        return
    known, place = serving(wall, designation), wall.source.place(*path)
    if not known:
        yield mistake(
            "serves-nothing", f"`{designation}` can serve no zone: nothing in it runs.", place,
            found=f"`{designation}`, {wall.parts[designation].part.name}",
            expected="a heat source or a load, for example `E1.burner` or `G1.motor`")
    elif name and name not in known:
        yield unknown("load", name, known, second_half(place, server, name), f"`{designation}`",
                      "heat source or load")



def serving(wall: Wall, designation: str) -> tuple[str, ...]:
    """Return what of a part can serve a zone: its heat source, then its loads."""
    part = wall.parts[designation].part
    heat = (part.heat.word.replace(" ", "-"),) if part.heat else ()
    return tuple(dict.fromkeys((*heat, *part.loads)))


def served(wall: Wall, written: str) -> str:
    """Return the full name of what serves a zone: of a part alone, the first that can."""
    designation, _, name = written.partition(".")
    return f"{designation}.{name or serving(wall, designation)[0]}"
