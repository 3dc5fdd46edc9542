"""Isolators and fuses at the top and at the foot of a supply, once for all that hangs on it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.pages.drawings.circuit_values import Element, Feed, Look, Source


@dataclass(frozen=True)
class Trunk:
    """What stands above a source's upper net, from the top, and below its lower net."""

    above: tuple[Element, ...] = ()
    below: tuple[Element, ...] = ()


def trunked(
    source: Source, elements: tuple[Element, ...]
) -> tuple[Source, Trunk, tuple[Element, ...]]:
    """Return a supply that begins behind its isolators, these, and all other elements."""
    if source.feed is not Feed.SUPPLY or source.upper == source.lower:
        return source, Trunk(), elements
    line, above = _along(source.upper[0], elements, source.lower)
    rest = tuple(e for e in elements if e.key not in {each.key for each in above})
    neutral, poles = _along(source.lower[0], rest, (line,))
    below = tuple(pole.turned() for pole in reversed(poles))
    rest = tuple(e for e in rest if e.key not in {each.key for each in below})
    return replace(source, upper=(line,), lower=(neutral,)), Trunk(above, below), rest


def _along(
    net: str, elements: tuple[Element, ...], barred: tuple[str, ...]
) -> tuple[str, tuple[Element, ...]]:
    """Return the net behind the isolators and fuses that follow one another, and these."""
    passed: list[Element] = []
    while True:
        here = [e for e in elements if net in (e.a, e.b) and e not in passed
                and (not passed or e.key != passed[-1].key)]
        if len(here) != 1 or here[0].look not in (Look.ISOLATOR, Look.FUSE):
            return net, tuple(passed)
        step = here[0] if here[0].a == net else here[0].turned()
        seen = {e.a for e in passed} | {net}
        if step.b in seen or step.b in barred:
            return net, tuple(passed)
        passed.append(step)
        net = step.b
