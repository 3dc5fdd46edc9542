"""Channel routing: a lane for each wire between a column and the spine, with few crossings.

Left-edge method with an order among wires that share a height (Hashimoto and Stevens 1971); the
order then changes while crossings fall.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

CLASH = 1_000_000  # counts as more crossings than a channel can have

Bill = list[list[int]]  # crossings of wires i and j if the lane of i is nearer the column


class Run(NamedTuple):
    """A wire in a channel: the heights at which it leaves for the column and for the spine."""

    key: str
    column: tuple[int, ...]
    spine: tuple[int, ...]
    top: int
    bottom: int

    @property
    def level(self) -> bool:
        """A level wire needs no lane."""
        return self.top == self.bottom


@dataclass(frozen=True)
class Lanes:
    """The lane of each wire that is not level, counted from the column, and the crossings."""

    of: dict[str, int]
    count: int
    crossings: int


def run(key: str, column: Sequence[int], spine: Sequence[int]) -> Run:
    """A wire that ends at these heights."""
    heights = (*column, *spine)
    return Run(key, tuple(column), tuple(spine), min(heights), max(heights))


@dataclass(frozen=True)
class Bundle:
    """Wires that need a lane, what each two of them cost, and what all cost at the least."""

    upright: tuple[Run, ...]
    bill: Bill
    least: int
    through: int


def bundled(runs: Sequence[Run]) -> Bundle:
    """The wires of a channel; through level ones they run whatever the order of lanes."""
    upright = tuple(each for each in runs if not each.level)
    bill, least = _billed(upright)
    through = sum(_met((each.top,), other) for each in runs if each.level for other in upright)
    return Bundle(upright, bill, least, through)


def laned(bundle: Bundle) -> Lanes:
    """Lanes with few crossings; a clash that no order avoids counts as CLASH crossings."""
    upright, bill = bundle.upright, bundle.bill
    order = _ordered(bill, bundle.least)
    of = _links_to_spine(upright, bill, _left_edge(upright, bill, order))
    lanes = {each.key: of[index] for index, each in enumerate(upright)}
    return Lanes(lanes, max(of.values(), default=-1) + 1, _total(bill, order) + bundle.through)


def _billed(runs: Sequence[Run]) -> tuple[Bill, int]:
    """What each two wires cost in both orders, and what all cost with each two in the better."""
    bill, least = [[0] * len(runs) for _ in runs], 0
    for (a, one), (b, other) in combinations(enumerate(runs), 2):
        if one.top <= other.bottom and other.top <= one.bottom:
            first = _met(one.spine, other) + _met(other.column, one)
            last = _met(other.spine, one) + _met(one.column, other)
            bill[a][b], bill[b][a] = first, last
            least += first if first < last else last
    return bill, least


def _met(heights: tuple[int, ...], other: Run) -> int:
    """Level pieces that meet the upright piece of a wire: cross it, or would run into its bend."""
    total = 0
    for height in heights:
        if other.top <= height <= other.bottom:
            total += CLASH if height == other.top or height == other.bottom else 1
    return total


def _ordered(bill: Bill, least: int) -> list[int]:
    """The wires from column to spine, each moved to where it costs least while that helps."""
    order, before = _first_order(bill), -1
    while (now := _total(bill, order)) not in (least, before):
        before = now
        # of places that cost the same now the first, now the last: that opens ways for others
        for late in (True, False):
            for each in tuple(order):
                order = _moved(order, each, bill, late)
    return order


def _total(bill: Bill, order: list[int]) -> int:
    return sum(bill[a][b] for a, b in combinations(order, 2))


def _first_order(bill: Bill) -> list[int]:
    """Wires that must stand nearer the column first, among them the one that gains most there.

    Where the musts go round in a circle a clash stays.
    """
    rest = list(range(len(bill)))
    clashes = [[cost // CLASH for cost in row] for row in bill]
    losses = [[bill[a][b] % CLASH - bill[b][a] % CLASH for b in rest] for a in rest]
    price = [(sum(clashes[a]), sum(losses[a]), a) for a in rest]
    order = []
    while rest:
        first = min(rest, key=price.__getitem__)
        rest.remove(first)
        order.append(first)
        for a in rest:
            clashing, loss, _ = price[a]
            price[a] = clashing - clashes[a][first], loss - losses[a][first], a
    return order


def _moved(order: list[int], each: int, bill: Bill, late: bool) -> list[int]:
    """The order with one wire in the first or the last place where it costs least."""
    others = [other for other in order if other != each]
    costs = [sum(bill[each][other] for other in others)]
    for other in others:
        costs.append(costs[-1] - bill[each][other] + bill[other][each])
    least = min(costs)
    places = [place for place, cost in enumerate(costs) if cost == least]
    place = places[-1] if late else places[0]
    return [*others[:place], each, *others[place:]]


def _left_edge(runs: Sequence[Run], bill: Bill, order: list[int]) -> dict[int, int]:
    """Each lane takes, from the top, what need not wait for another wire and has room in it."""
    waits = {
        late: {early for early in order[:place] if bill[early][late] < bill[late][early]}
        for place, late in enumerate(order)
    }
    lanes: dict[int, int] = {}
    lane = 0
    while len(lanes) < len(order):
        ready = [each for each in order if each not in lanes and waits[each] <= lanes.keys()]
        used = -1
        for each in sorted(ready, key=lambda index: runs[index].top):
            if runs[each].top > used:
                lanes[each], used = lane, runs[each].bottom
        lane += 1
    return lanes


def _links_to_spine(runs: Sequence[Run], bill: Bill, lanes: dict[int, int]) -> dict[int, int]:
    """Wires that only touch the spine move towards it as far as that costs nothing."""
    lanes = dict(lanes)
    links = (index for index in lanes if not runs[index].column)
    for link in sorted(links, key=lambda index: -lanes[index]):
        for lane in range(lanes[link] + 1, max(lanes.values()) + 1):
            there = [
                other for other in lanes if lanes[other] == lane and _abreast(runs, link, other)
            ]
            if any(bill[other][link] > bill[link][other] for other in there):
                break
            if not there:
                lanes[link] = lane
    return lanes


def _abreast(runs: Sequence[Run], a: int, b: int) -> bool:
    return runs[a].top <= runs[b].bottom and runs[b].top <= runs[a].bottom
