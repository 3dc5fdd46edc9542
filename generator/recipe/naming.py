"""Checks that a system speaks only of parts, terminals and settings that exist."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, Place, mistake
from generator.recipe.document import Path
from generator.recipe.parts import second_half, setting_mistakes, unknown
from generator.recipe.wall import Wall
from generator.recipe.zones import zone_mistakes


def wall_mistakes(wall: Wall) -> Iterator[Finding]:
    """Yield every name in a system that names nothing, and every designation given twice."""
    yield from _doubled(wall)
    for path, terminal in _terminals_named(wall):
        yield from terminal_mistakes(wall, terminal, wall.source.place(*path))
    for name, part in _parts_named(wall):
        if part not in wall.system.parts:
            yield unknown("designation", part, wall.system.parts, wall.source.place(*name),
                          "This system", "part")
    yield from zone_mistakes(wall)
    for path, switch, word in _settings_named(wall):
        yield from switch_mistakes(wall, switch, word, wall.source.key_place(*path),
                                   wall.source.place(*path))


def _terminals_named(wall: Wall) -> Iterator[tuple[Path, str]]:
    for designation, laid in wall.system.cables.items():
        for colour, core in laid.cores.items():
            for end, terminal in (("from", core.from_), ("to", core.to)):
                if terminal is not None:
                    yield ("cables", designation, "cores", colour, end), terminal
    for name, link in wall.system.links.items():
        yield ("links", name, "from"), link.from_
        yield ("links", name, "to"), link.to
    for name, supply in wall.system.supplies.items():
        for pole in ("line", "neutral", "earth"):
            yield ("supplies", name, pole), getattr(supply, pole)
    for designation, placed in wall.system.parts.items():
        for i, terminal in enumerate(placed.capped):
            yield ("parts", designation, "capped", i), f"{designation}:{terminal}"


def _parts_named(wall: Wall) -> Iterator[tuple[Path, str]]:
    for name, zone in wall.system.zones.items():
        if zone.valve is not None:
            yield ("zones", name, "valve"), zone.valve.partition(".")[0]
        for i, server in enumerate(zone.served_by):
            yield ("zones", name, "served-by", i), server.partition(".")[0]
        if zone.cut_out is not None:
            yield ("zones", name, "cut-out"), zone.cut_out
    for i, notice in enumerate(wall.system.notices):
        yield ("notices", i, "at"), notice.at
    for designation, placed in wall.system.parts.items():
        if placed.inside is not None:
            yield ("parts", designation, "inside"), placed.inside


def _settings_named(wall: Wall) -> Iterator[tuple[Path, str, str]]:
    for name, supply in wall.system.supplies.items():
        for switch, word in supply.isolated_by.items():
            yield ("supplies", name, "isolated-by", switch), switch, word
    for name, zone in wall.system.zones.items():
        for switch, word in zone.called_by.items():
            yield ("zones", name, "called-by", switch), switch, word


def terminal_mistakes(wall: Wall, terminal: str, place: Place) -> Iterator[Finding]:
    """Yield what is wrong with a terminal named at `place`."""
    designation, name = terminal.split(":")
    if designation not in wall.system.parts:
        yield unknown("designation", designation, wall.system.parts, place, "This system", "part")
    elif designation in wall.parts and name not in wall.parts[designation].part.terminals:
        yield unknown("terminal", name, wall.parts[designation].part.terminals,
                      second_half(place, terminal, name), f"`{designation}`")


def switch_mistakes(
    wall: Wall, switch: str, word: str, key: Place, value: Place
) -> Iterator[Finding]:
    """Yield what is wrong with `switch: word`, whose two halves stand at `key` and `value`."""
    designation, name = switch.split(".")
    if designation not in wall.system.parts:
        yield unknown("designation", designation, wall.system.parts, key, "This system", "part")
    elif designation in wall.parts:
        part = wall.parts[designation].part
        yield from setting_mistakes(part, name, word, second_half(key, switch, name), value,
                                    f"`{designation}`")


def _doubled(wall: Wall) -> Iterator[Finding]:
    for designation in wall.system.parts.keys() & wall.system.cables.keys():
        part, cable = (wall.source.key_place(group, designation) for group in ("parts", "cables"))
        yield mistake(
            "doubled-designation", f"The designation `{designation}` is given twice.",
            cable.noted("given again here"), part.noted("first given here"),
            found=f"`{designation}` for a part and for a cable", expected="one designation each",
            hint="give the second one a designation of its own")
