"""Where a person stands in a search: what is set, dead and open; what the next step costs."""

from __future__ import annotations

from dataclasses import dataclass

from generator.recipe.costs import Costs
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.measurement import ANY, Measurement


@dataclass(frozen=True)
class Stand:
    """How things stand: the setting of the controls, whether all is dead, the open enclosures."""

    setting: int
    dead: bool = False
    opened: tuple[str, ...] = ()


@dataclass(frozen=True)
class Moves:
    """What is done before a measurement can be made; `changed` are switches to move, as bits."""

    isolated: bool
    opened: tuple[str, ...]
    restored: bool
    changed: int
    waited: bool


def moves(ground: Ground, stand: Stand, wanted: Measurement) -> Moves:
    """Return what is done from where one stands; a cover is opened only when all is dead."""
    lids = tuple(lid for lid in wanted.lids if lid not in stand.opened)
    if not wanted.live:
        dials = 0 if wanted.at == ANY else (stand.setting ^ wanted.at) & ground.dials
        return Moves(not stand.dead, lids, False, dials, False)
    restored = stand.dead or bool(lids)
    after = ground.moved(wanted.at)
    waited = any(after) if restored else after != ground.moved(stand.setting)
    return Moves(bool(lids) and not stand.dead, lids, restored, stand.setting ^ wanted.at, waited)


def cost(costs: Costs, made: Moves) -> float:
    """Return what moves and the measurement after them are counted as."""
    return (costs.reading + costs.isolating * made.isolated + costs.lid * len(made.opened)
            + costs.control * made.changed.bit_count() + costs.valve * made.waited)


def after(stand: Stand, wanted: Measurement, made: Moves) -> Stand:
    """Return how things stand once it is measured: a lid stays open, a setting stays made."""
    return Stand(stand.setting ^ made.changed, not wanted.live,
                 tuple(sorted({*stand.opened, *made.opened})))
