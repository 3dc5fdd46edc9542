"""Nets of an edited circuit, from those it had: what no edit touches stays as it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from generator.circuit.reach import Nets

if TYPE_CHECKING:
    from generator.circuit.elements import Conductor
    from generator.circuit.flat import Circuit


def nets_of_edit(before: Circuit, after: tuple[Conductor, ...]) -> Nets:
    """Return the nets that the terminals of a circuit have with the conductors `after` an edit.

    Right whatever the two have in common, quick where few were taken out and few put in last.
    """
    if after is before.conductors:
        return before.nets
    nets, place = before.nets, before.nets.place
    gone, kept = _gone(before, after)
    if gone:
        joints = list(before.joints)
        for i in gone:
            joints.remove(before.joints[i])
            nets = nets.parted(before.joints[i], joints)
    for conductor in after[kept:]:
        nets = nets.joined(place[conductor.a], place[conductor.b])
    return nets


def _gone(before: Circuit, after: tuple[Conductor, ...]) -> tuple[list[int], int]:
    """Return which conductors were taken out, and how many at the head of `after` were not."""
    count = len(before.conductors)
    if len(after) >= count and after[:count] == before.conductors:
        return [], count
    gone, kept = [], 0
    for i, conductor in enumerate(before.conductors):
        if kept < len(after) and after[kept] is conductor:
            kept += 1
        else:
            gone.append(i)
    return gone, kept
