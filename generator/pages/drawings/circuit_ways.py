"""The circuit in words: what each load hangs on, for a reader who cannot see the drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.pages.drawings.circuit_banks import Tree
from generator.pages.drawings.circuit_blocks import Beside, Block, Series
from generator.pages.drawings.circuit_limbs import Fork
from generator.pages.drawings.circuit_values import Element, Look


def ways(trees: Iterable[Tree]) -> tuple[str, ...]:
    """Return each load with the contacts on its way from the top, in order."""
    return tuple(way for tree in trees for fork in tree.forks
                 for way in _below(fork, tuple(map(_said, tree.trunk.above))))


def _below(fork: Fork, passed: tuple[str, ...]) -> Iterator[str]:
    for limb in fork.limbs:
        way = passed
        if isinstance(limb.block, Element) and limb.block.look is Look.LOAD:
            yield f"{_said(limb.block)}: {', then '.join(passed) or 'straight from the line'}"
            way = (*passed, f"through {_said(limb.block)}")
        elif limb.block:
            way = (*passed, _said(limb.block))
        if isinstance(limb.end, Fork):
            yield from _below(limb.end, way)


def _said(block: Block) -> str:
    match block:
        case Series(first, then):
            return f"{_said(first)}, then {_said(then)}"
        case Beside(blocks):
            return f"({' or '.join(map(_said, blocks))})"
        case _:
            return " ".join((block.heading, *block.lines))
