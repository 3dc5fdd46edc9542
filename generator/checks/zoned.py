"""A solved system with its zones: what opens each, what serves it, and where it calls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.evidence import Evidence
from generator.checks.solved import Solved
from generator.circuit.elements import Contact, Device, HeatSource, Load, Variable, Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.recipe.moving import enough, wanted

SHUT = "shut"
"""The word of a valve that lets nothing through."""
CIRCULATED = "water in circulation"
STORED = "stored water"
UNVENTED = "unvented cylinder"
VENTED = "vented cylinder"
PUMP = "pump"


@dataclass(frozen=True)
class Zoned(Solved):
    """A solved system with what its zones, valves and heat sources do."""

    def motors(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads that move the valve of a zone, or its one way through it."""
        names = (name for device in self._devices(zone) for name in device.loads)
        return tuple(self.circuit.load[name] for name in dict.fromkeys(names))

    def openers(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads that open the valve of a zone; others wind it shut."""
        variables = self.circuit.variables
        helps = {name for device in self._devices(zone)
                 for name in wanted(device.wish, variables[device.variable].words[1] != SHUT)}
        return tuple(load for load in self.motors(zone) if load.name in helps)

    def starters(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads each of which alone opens the way of a zone, wherever it stands.

        Others only hold it open: grey of a mid-position valve that has wound over.
        """
        variables = self.circuit.variables
        alone = {name for device in self._devices(zone)
                 if variables[device.variable].words[1] != SHUT for name in enough(device.wish)}
        return tuple(load for load in self.motors(zone) if load.name in alone)

    def _devices(self, zone: Zone) -> Iterator[Device]:
        positions = {v for v, _ in self._positions(zone)}
        return (device for device in self.circuit.devices if device.variable in positions)

    def _positions(self, zone: Zone) -> Iterator[tuple[int, Variable]]:
        """Yield the positions of the valve of a zone: all of them, or its one way."""
        for v, variable in enumerate(self.circuit.variables):
            if variable.moves and variable.part == zone.valve \
                    and zone.way in ("", variable.name):
                yield v, variable

    def calls(self, zone: Zone) -> Table:
        """Return where a zone calls, or another that is opened together with it."""
        return table_or(self.potentials.condition(each.call)
                        for each in self.circuit.zones if each.shares(zone))

    def calling(self) -> Table:
        """Return where any zone calls."""
        return table_or(self.potentials.condition(zone.call) for zone in self.circuit.zones)

    def ways(self, zone: Zone) -> int:
        """Return how many ways through the valve of a zone open and shut apart from each other.

        All of the valve's ways, also where the zone has only one of them.
        """
        return sum(SHUT in variable.words for variable in self.circuit.variables
                   if variable.moves and variable.part == zone.valve)

    def one_of_several(self, zone: Zone) -> bool:
        """Tell whether a zone has one way of a valve with several: its motor serves others too."""
        return bool(zone.way) and self.ways(zone) > 1

    def opened(self, zone: Zone) -> Table:
        """Return where water can go to a zone: its valve is not shut, or its pump runs.

        Always, where it has neither a valve nor a pump of its own.
        """
        if zone.valve:
            return table_or(self.potentials.space.where(v, variable.words[1] != SHUT)
                            for v, variable in self._positions(zone))
        pumps = self.pumps(zone)
        return table_or(map(self.potentials.runs, pumps)) if pumps else self.potentials.space.full

    def pumps(self, zone: Zone) -> tuple[Load, ...]:
        """Return the pumps that are said to serve a zone."""
        return tuple(load for load in self.serving(zone) if load.kind == PUMP)

    def asked_for(self, pump: Load) -> Table:
        """Return where a zone calls that a pump serves: one of those that name it, else any."""
        own = [zone for zone in self.circuit.zones if pump.name in zone.served_by]
        return table_or(map(self.calls, own)) if own else self.calling()

    def serving(self, zone: Zone) -> tuple[Load, ...]:
        """Return the loads that are said to serve a zone, heat sources left out."""
        loads = self.circuit.load
        return tuple(loads[name] for name in zone.served_by if name in loads)

    def served(self, zone: Zone, name: str) -> Table:
        """Return where something that serves a zone is at work: a source fires, a load runs."""
        source = next((each for each in self.circuit.heat_sources if each.name == name), None)
        return (self.potentials.fires(source) if source
                else self.potentials.runs(self.circuit.load[name]))

    def own_sources(self, zone: Zone) -> tuple[HeatSource, ...]:
        """Return the heat sources that serve a zone: those said, else all that heat its water."""
        named = tuple(s for s in self.circuit.heat_sources if s.name in zone.served_by)
        return named or self.sources(CIRCULATED)

    def heated(self, zone: Zone) -> Table:
        """Return where heat goes to a zone: water can go there, and a source that serves it fires.

        Empty where no such source is drawn.
        """
        return self.opened(zone) & table_or(map(self.potentials.fires, self.own_sources(zone)))

    def end_switch(self, zone: Zone) -> tuple[Contact, ...]:
        """Return the contacts that the valve of a zone closes when it has moved and is open."""
        return tuple(
            contact for contact in self.circuit.contacts
            if contact.part == zone.valve and self.ways(zone)
            and any(self.circuit.variables[v].moves and worked for v, worked in contact.when)
            and self.potentials.closed(contact) & self.opened(zone))

    def bare_switch(self, zone: Zone) -> tuple[str, ...]:
        """Return the ends of the end switch of a zone's valve on which nothing lands."""
        return tuple(end for contact in self.end_switch(zone) for end in (contact.a, contact.b)
                     if not self.led(end))

    def unheated(self, zone: Zone) -> Table:
        """Return the settled states in which a zone calls, water can go there, and nothing fires.

        Supplies on, cut-outs healthy; empty where no boiler is drawn.
        """
        called = self.potentials.condition(zone.call) & self.able()
        return called & self.opened(zone) & ~self.heated(zone) if self.own_sources(zone) else 0

    def able(self) -> Table:
        """Return the settled states with the supplies on and no cut-out tripped."""
        return self.supplied() & self.healthy() & self.settled

    def any_open(self) -> Table:
        """Return where water can go to any zone."""
        return table_or(self.opened(zone) for zone in self.circuit.zones)

    def sources(self, heats: str) -> tuple[HeatSource, ...]:
        """Return the heat sources that heat `water in circulation`, or `stored water`."""
        return tuple(s for s in self.circuit.heat_sources if s.heats == heats)

    def firing(self, within: Table) -> Iterator[tuple[HeatSource, Table, Evidence]]:
        """Yield the sources of circulated water that fire in some of these states, and how."""
        for source in self.sources(CIRCULATED):
            if fires := self.potentials.fires(source) & within:
                yield source, fires, self.fired(source, fires, within)

    def fired(self, source: HeatSource, fires: Table, within: Table) -> Evidence:
        """Return what makes a source fire: the way to its input, or what joins its pair."""
        asked = next((load for load in self._inputs(source)), self.deciding(source))
        if asked.volt_free:
            return self.evidence(fires, within, (asked.a,), asked.b)
        return self.feeding(fires, within, asked)

    def lacking(self, source: HeatSource, cold: Table) -> Load:
        """Return what a source lacks where it does not fire: first of all its input."""
        loads = (*self._inputs(source), *(self.circuit.load[name] for name in source.loads))
        state = self.earliest(cold)
        return next((load for load in loads if not self.potentials.runs(load) >> state & 1),
                    self.deciding(source))

    def _inputs(self, source: HeatSource) -> Iterator[Load]:
        loads = (self.circuit.load[name] for name in source.loads)
        return (load for load in loads if load.volt_free or load.kind == "call input")

    def deciding(self, source: HeatSource) -> Load:
        """Return the load that decides whether a heat source fires: it runs least, or is called."""
        def order(load: Load) -> tuple[int, bool]:
            runs = self.potentials.runs(load) & self.reachable
            return runs.bit_count(), load.kind != "call input"

        return min((self.circuit.load[name] for name in source.loads), key=order)
