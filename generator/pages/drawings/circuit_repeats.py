"""A terminal that stands at the foot of one contact and the top of the next is written once."""

from __future__ import annotations

from dataclasses import replace

from generator.pages.drawings.circuit_banks import Bank, Run
from generator.pages.drawings.circuit_blocks import Beside, Block, Series
from generator.pages.drawings.circuit_limbs import Fork, Limb
from generator.pages.drawings.circuit_symbols import full_name
from generator.pages.drawings.circuit_values import Element


def once(bank: Bank) -> Bank:
    """Return a bank in which no terminal is written twice running."""
    trunk = bank.tree.trunk
    above, last = _chain(trunk.above)
    below, _ = _chain(trunk.below)
    runs = tuple(Run(_fork(run.fork, "" if run.again else last), run.again) for run in bank.runs)
    tree = replace(bank.tree, trunk=replace(trunk, above=above, below=below))
    return replace(bank, tree=tree, runs=runs)


def _chain(elements: tuple[Element, ...]) -> tuple[tuple[Element, ...], str]:
    found: list[Element] = []
    before = ""
    for element in elements:
        found.append(_element(element, before))
        before = full_name(element, element.b_name)
    return tuple(found), before


def _fork(fork: Fork, before: str) -> Fork:
    return Fork(fork.net, tuple(_limb(limb, before) for limb in fork.limbs))


def _limb(limb: Limb, before: str) -> Limb:
    block, after = _block(limb.block, before) if limb.block else (None, before)
    return Limb(block, _fork(limb.end, after) if isinstance(limb.end, Fork) else limb.end)


def _block(block: Block, before: str) -> tuple[Block, str]:
    match block:
        case Series(first, then):
            upper, middle = _block(first, before)
            lower, last = _block(then, middle)
            return Series(upper, lower), last
        case Beside(blocks):
            return Beside(tuple(_block(each, before)[0] for each in blocks)), ""
        case _:
            return _element(block, before), full_name(block, block.b_name)


def _element(element: Element, before: str) -> Element:
    repeated = before and full_name(element, element.a_name) == before
    return replace(element, a_name="") if repeated else element

