"""A line with rounded bends and hops as Bezier curves, the only paths that DOT text can hold."""

from itertools import pairwise

Point = tuple[float, float]

BEND = 2.5  # radius of a bend
HOP = 2.25  # radius of a hop, less than half the distance between lanes
_ROUND = 0.5523  # how far control points lie along the radius for a quarter of a circle


def curve(corners: tuple[Point, ...], hops: tuple[Point, ...]) -> tuple[Point, ...]:
    """Start, then three points for each piece: two control points and its end."""
    path = [corners[0]]
    for place, (start, end) in enumerate(pairwise(corners)):
        for hop in sorted(hops, reverse=end < start):
            if start[1] == hop[1] == end[1] and min(start, end) < hop < max(start, end):
                _straight(path, _toward(hop, start, HOP))
                _hop(path, hop)
        if place + 2 < len(corners):
            after = corners[place + 2]
            _straight(path, _toward(end, start, BEND))
            _bend(path, end, _toward(end, after, BEND))
    _straight(path, corners[-1])
    return tuple(path)


def _toward(origin: Point, goal: Point, distance: float) -> Point:
    """The point at this distance from the origin on the level or upright way to the goal."""
    across, down = goal[0] - origin[0], goal[1] - origin[1]
    share = distance / max(abs(across), abs(down))
    return origin[0] + across * share, origin[1] + down * share


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _straight(path: list[Point], end: Point) -> None:
    start = path[-1]
    path.extend((_between(start, end, 1 / 3), _between(start, end, 2 / 3), end))


def _bend(path: list[Point], corner: Point, end: Point) -> None:
    start = path[-1]
    path.extend((_between(start, corner, _ROUND), _between(end, corner, _ROUND), end))


def _hop(path: list[Point], middle: Point) -> None:
    """Half a circle upwards over the middle."""
    start = path[-1]
    top = (middle[0], middle[1] - HOP)
    _bend(path, (start[0], top[1]), top)
    end = (2 * middle[0] - start[0], start[1])
    _bend(path, (end[0], top[1]), end)
