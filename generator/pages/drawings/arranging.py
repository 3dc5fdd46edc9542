"""The order of parts and of their terminals, and how high each part stands: few crossings first."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import combinations, permutations, product
from statistics import mean, median_low

from generator.pages.drawings.channels import Channel
from generator.pages.drawings.figures import LINE, UNIT, Figure
from generator.pages.drawings.sheet import Wire

Layouts = tuple[Channel, ...]  # one order of parts and terminals, at different heights

_STEPS = 20
_MOVES = (-2 * LINE, -LINE, -UNIT, UNIT, LINE, 2 * LINE)


def arranged(column: Sequence[Figure], spine: Figure | None, wires: tuple[Wire, ...]) -> Channel:
    """The channel after parts and terminals have changed places while its cost falls."""
    bare = tuple(replace(wire, net="", words="", fate="") for wire in wires)
    return replace(_arranged(tuple(column), spine, bare), wires=wires)


@lru_cache(maxsize=256)
def _arranged(column: tuple[Figure, ...], spine: Figure | None, wires: tuple[Wire, ...]) -> Channel:
    """Remembered: before and after, and on all pages of a system, channels are the same."""
    given = settled(column, spine, wires)
    towards = settled([_towards(figure, given) for figure in column], spine, wires)
    best = _cheapest(given, towards)
    for tries in (_parts_exchanged, _rows_exchanged, _parts_exchanged, _figures_moved):
        best = _improved(best, tries)
    return best


def settled(column: Sequence[Figure], spine: Figure | None, wires: tuple[Wire, ...]) -> Channel:
    """The figures in this order, each as near as can be to where its wires run level."""
    return _cheapest(*_layouts(column, spine, wires))


def _layouts(column: Sequence[Figure], spine: Figure | None, wires: tuple[Wire, ...]) -> Layouts:
    """Both ways to settle; where they come to the same heights, once."""
    order = tuple(column)
    stacked = Channel(order, _spread(order, [0] * len(order), spine, LINE), spine, wires)
    wished = [_wish(stacked, index) for index in range(len(order))]
    # at multiples of LINE no end in the column is level with one on the spine: that never clashes
    tried = dict.fromkeys(_spread(order, wished, spine, step) for step in (UNIT, LINE))
    return tuple(replace(stacked, tops=tops) for tops in tried)


def _cheapest(*channels: Channel) -> Channel:
    return min(channels, key=lambda channel: channel.cost)


def _improved(channel: Channel, tries: Callable[[Channel], Iterator[Layouts]]) -> Channel:
    """Takes the first change that helps, again and again, but not for ever."""
    for _ in range(_STEPS):
        found = (_cheaper(layouts, channel) for layouts in tries(channel))
        better = next(filter(None, found), None)
        if better is None:
            break
        channel = better
    return channel


def _cheaper(layouts: Layouts, than: Channel) -> Channel | None:
    """The cheapest of the layouts if it costs less than the channel."""
    hopeful = (each for each in layouts if each.least <= than.lanes.crossings)
    best = _cheapest(than, *hopeful)
    return None if best is than else best


def _parts_exchanged(channel: Channel) -> Iterator[Layouts]:
    """Each two parts exchanged, and each part put elsewhere."""
    for order in _orders(len(channel.column)):
        column = [channel.column[place] for place in order]
        yield _layouts(column, channel.spine, channel.wires)


def _rows_exchanged(channel: Channel) -> Iterator[Layouts]:
    """Each two terminals of a part exchanged."""
    for index, figure in enumerate(channel.column):
        for a, b in combinations(range(len(figure.rows)), 2):
            rows = list(figure.rows)
            rows[a], rows[b] = rows[b], rows[a]
            column = list(channel.column)
            column[index] = figure.reordered(rows)
            yield _layouts(column, channel.spine, channel.wires)


def _figures_moved(channel: Channel) -> Iterator[Layouts]:
    """Each figure a little higher or lower."""
    for index, move in product(range(len(channel.column)), _MOVES):
        wished = list(channel.tops)
        wished[index] += move
        yield (replace(channel, tops=_spread(channel.column, wished, channel.spine, UNIT)),)


def _orders(count: int) -> dict[tuple[int, ...], None]:
    """Every order that is one exchange or one move away, each once."""
    given, found = list(range(count)), {}
    for a, b in permutations(given, 2):
        moved = [place for place in given if place != a]
        moved.insert(b, a)
        swapped = list(given)
        swapped[a], swapped[b] = b, a
        found.update(dict.fromkeys((tuple(moved), tuple(swapped))))
    return found


def _towards(figure: Figure, channel: Channel) -> Figure:
    """The figure with its terminals in the order of what they are wired to, unwired ones last."""
    goals: dict[str, list[int]] = {row.pin.terminal: [] for row in figure.rows}
    for wire in channel.wires:
        for here, there in ((wire.start, wire.end), (wire.end, wire.start)):
            if here in goals:
                goals[here].append(channel.seats[there].middle)
    far = max((seat.middle for seat in channel.seats.values()), default=0) + 1
    return figure.reordered(
        sorted(figure.rows, key=lambda row: mean(goals[row.pin.terminal] or [far]))
    )


def _wish(channel: Channel, index: int) -> int:
    """Where the figure would start for the middle one of its wires to run level."""
    figure, top = channel.column[index], channel.tops[index]
    own = {row.pin.terminal for row in figure.rows}
    falls = [
        channel.heights[wire.key, wire.start not in own]
        - channel.heights[wire.key, wire.start in own]
        for wire in channel.wires
        if (wire.start in own) != (wire.end in own)
    ]
    return top + (median_low(falls) if falls else 0)


def _spread(
    column: Sequence[Figure], wished: Sequence[int], spine: Figure | None, step: int
) -> tuple[int, ...]:
    """Tops at multiples of the step, near those wished, with room between all figures."""
    packed = sum(-(-(figure.height + LINE) // step) * step for figure in column)
    ceiling, tops = 0, []
    for figure, wish in zip(column, wished, strict=True):
        tops.append(-(-max(wish, ceiling) // step) * step)
        ceiling = tops[-1] + figure.height + LINE
    floor = max(packed, spine.height + LINE if spine else 0)
    for index in reversed(range(len(tops))):
        tops[index] = min(tops[index], (floor - LINE - column[index].height) // step * step)
        floor = tops[index]
    return tuple(tops)
