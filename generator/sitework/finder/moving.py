"""Where a person stands in a search: what is set, dead and open; what the next step costs."""

from __future__ import annotations

from dataclasses import dataclass

from generator.recipe.costs import Costs
from generator.sitework.finder.ground import Ground
from generator.sitework.finder.measurement import ANY, Measurement


@dataclass(frozen=True)
class Stand:
    """How things stand: the setting of the controls, whether all is dead, the open enclosures.

    Not `sure` once something could not be done: nobody knows how far it was done.
    """

    setting: int
    dead: bool = False
    opened: tuple[str, ...] = ()
    sure: bool = True


@dataclass(frozen=True)
class Moves:
    """What is done before a measurement can be made; `changed` are switches to move, as bits.

    `again` are boxes that stood open with the supply on and are proved dead again; `fed` counts
    those opened at which a supply arrives.
    """

    isolated: bool
    again: tuple[str, ...]
    opened: tuple[str, ...]
    fed: int
    changed: int
    waited: bool


def moves(ground: Ground, stand: Stand, wanted: Measurement) -> Moves:
    """Return what is done from where one stands; a cover is moved only when all is dead."""
    open_now = stand.opened if stand.sure else ()
    lids = tuple(lid for lid in wanted.lids if lid not in open_now)
    fed = len(ground.fed.intersection(lids))
    if not wanted.live:
        dials = 0 if wanted.at == ANY else (stand.setting ^ wanted.at) & ground.dials
        isolated = not (stand.dead and stand.sure)
        again = tuple(lid for lid in wanted.lids if isolated and lid in open_now)
        return Moves(isolated, again, lids, fed, dials, False)
    covered = bool(lids) or not {*stand.opened} <= {*wanted.lids}
    isolated = covered and not (stand.dead and stand.sure)
    after = ground.moved(wanted.at)
    from_rest = stand.dead or isolated
    waited = any(after) if from_rest else not stand.sure or after != ground.moved(stand.setting)
    return Moves(isolated, (), lids, fed, stand.setting ^ wanted.at, waited)


def cost(costs: Costs, made: Moves) -> float:
    """Return what moves and the measurement after them are counted as.

    Where a supply arrives, its circuit is isolated once more, at the consumer unit.
    """
    return (costs.reading + costs.isolating * (made.isolated + made.fed)
            + costs.lid * len(made.opened)
            + costs.control * made.changed.bit_count() + costs.valve * made.waited)


def after(stand: Stand, wanted: Measurement, made: Moves) -> Stand:
    """Return how things stand once it is measured: a setting stays made.

    Dead, a cover once off stays off; with the supply on all others are on.
    """
    kept = () if wanted.live or not stand.sure else stand.opened
    return Stand(stand.setting ^ made.changed, not wanted.live,
                 tuple(sorted({*kept, *wanted.lids})))


def doubted(stand: Stand, made: Moves) -> Stand:
    """Return how things may stand after what could not be measured: all is said anew."""
    return Stand(stand.setting, False, tuple(sorted({*stand.opened, *made.opened})), sure=False)
