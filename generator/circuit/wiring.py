"""From what the author wrote to the flat circuit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.circuit.elements import (
    POSITION,
    Condition,
    Conductor,
    Contact,
    Device,
    HeatSource,
    Load,
    Supply,
    Terminal,
    Variable,
    Zone,
    part_of,
)
from generator.circuit.flat import Circuit
from generator.recipe.moving import names, parse_wish, renamed
from generator.recipe.wall import Laid, Mounted, Wall
from generator.recipe.zones import served


def wire(wall: Wall) -> Circuit:
    """Return the flat circuit of a system; every element keeps the place it was written at."""
    parts = tuple(wall.parts.values())
    variables = tuple(v for part in parts for v in _variables(part))
    index = {variable.name: i for i, variable in enumerate(variables)}
    conditions = _Conditions(variables, index)
    return Circuit(
        variables=variables,
        terminals=tuple(t for part in parts for t in _terminals(part)),
        conductors=(
            *(c for cable in wall.cables.values() for c in _cores(wall, cable)),
            *_links(wall),
            *(c for part in parts for c in _joints(part)),
        ),
        contacts=tuple(c for part in parts for c in _contacts(part, conditions)),
        loads=tuple(load for part in parts for load in _loads(part)),
        devices=tuple(d for part in parts for d in _devices(part, index)),
        heat_sources=tuple(h for part in parts for h in _heat_sources(part)),
        supplies=tuple(_supplies(wall, conditions)),
        zones=tuple(_zones(wall, conditions)),
        closed=tuple(
            tuple(f"{part.designation}:{name}" for name in part.part.closed)
            for part in parts if part.part.closed
        ),
    )


class _Conditions:
    """Turns switch names and words into variables and values."""

    def __init__(self, variables: tuple[Variable, ...], index: dict[str, int]) -> None:
        self.variables = variables
        self.index = index

    def of(self, settings: Mapping[str, str]) -> Condition:
        return tuple(
            (self.index[name], self.variables[self.index[name]].words[1] == word)
            for name, word in settings.items()
        )


def _variables(part: Mounted) -> Iterator[Variable]:
    for name, switch in part.part.switches.items():
        yield Variable(f"{part.designation}.{name}", (switch.rest, switch.worked),
                       switch.kind.value, part.place, switch.resets or "")
    for name, position in part.part.positions.items():
        yield Variable(f"{part.designation}.{name}", (position.rest, position.worked),
                       POSITION, part.place)


def _terminals(part: Mounted) -> Iterator[Terminal]:
    for name, terminal in part.part.terminals.items():
        yield Terminal(f"{part.designation}:{name}", terminal.carries.value, terminal.takes,
                       terminal.row, part.place, terminal.tail is not None)


def _cores(wall: Wall, cable: Laid) -> Iterator[Conductor]:
    for colour, core in cable.laid.cores.items():
        if core.from_ is None or core.to is None:
            continue
        place = wall.source.key_place("cables", cable.designation, "cores", colour)
        yield Conductor(
            f"{cable.designation}.{colour}", core.from_, core.to, "core", place, colour,
            core.sleeve or "", core.does, cable.cable.amps, cable.designation)


def _links(wall: Wall) -> Iterator[Conductor]:
    for name, link in wall.system.links.items():
        place = wall.source.key_place("links", name)
        yield Conductor(name, link.from_, link.to, "link", place, link.colour, "", link.does)


def _joints(part: Mounted) -> Iterator[Conductor]:
    for name, (a, b) in part.part.joints.items():
        yield Conductor(f"{part.designation}.{name}", f"{part.designation}:{a}",
                        f"{part.designation}:{b}", "joint", part.place)


def _contacts(part: Mounted, conditions: _Conditions) -> Iterator[Contact]:
    for name, contact in part.part.contacts.items():
        a, b = (f"{part.designation}:{terminal}" for terminal in contact.between)
        when = conditions.of(
            {f"{part.designation}.{switch}": word for switch, word in contact.closed_while.items()})
        amps, inductive = _rating(part, when, conditions)
        if contact.rating:
            amps = contact.rating.amps
            inductive = contact.rating.inductive or amps
        yield Contact(f"{part.designation}.{name}", a, b, when, part.place, amps, inductive)


def _rating(part: Mounted, when: Condition, conditions: _Conditions) -> tuple[float, float]:
    """Return what a fuse on this wall carries; it is fitted with the part, not made with it."""
    fuse = any(conditions.variables[v].kind == "fuse" for v, _ in when)
    amps = part.placed.fuse or 0.0 if fuse else 0.0
    return amps, amps


def _loads(part: Mounted) -> Iterator[Load]:
    for name, load in part.part.loads.items():
        a, b = (f"{part.designation}:{terminal}" for terminal in load.between)
        yield Load(f"{part.designation}.{name}", a, b, load.kind.value, load.watts,
                   load.says, part.place, load.up_to)


def _devices(part: Mounted, index: dict[str, int]) -> Iterator[Device]:
    for name, position in part.part.positions.items():
        wish = renamed(parse_wish(position.moves_while),
                       lambda word: f"{part.designation}.{word}")
        loads = tuple(dict.fromkeys(
            word for word in names(wish)
            if word.removeprefix(f"{part.designation}.") in part.part.loads))
        yield Device(index[f"{part.designation}.{name}"], wish, loads)


def _heat_sources(part: Mounted) -> Iterator[HeatSource]:
    heat = part.part.heat
    if heat:
        yield HeatSource(
            f"{part.designation}.{heat.word.replace(' ', '-')}",
            tuple(f"{part.designation}.{load}" for load in heat.fires_while), heat.heats,
            tuple(f"{part.designation}:{terminal}" for terminal in heat.also_asks), part.place)


def _supplies(wall: Wall, conditions: _Conditions) -> Iterator[Supply]:
    for name, supply in wall.system.supplies.items():
        yield Supply(name, supply.says, supply.line, supply.neutral, supply.earth,
                     conditions.of(supply.isolated_by), wall.source.key_place("supplies", name))


def _zones(wall: Wall, conditions: _Conditions) -> Iterator[Zone]:
    for name, zone in wall.system.zones.items():
        tripped = {
            variable.name: variable.words[1] for variable in conditions.variables
            if variable.kind == "cut-out" and variable.part == zone.cut_out
        }
        valve = zone.valve or ""
        yield Zone(name, part_of(valve), valve if "." in valve else "",
                   tuple(served(wall, each) for each in zone.served_by),
                   conditions.of(zone.called_by), conditions.of(tripped), zone.stores,
                   wall.source.key_place("zones", name))
