"""What an edited circuit takes over from the one it was made of is what it has when made afresh."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.circuit.elements import Conductor
from generator.circuit.faults import single_faults
from generator.circuit.flat import Circuit, without
from generator.circuit.potentials import could_be_live, solve
from tests.circuit.made_circuits import HERE, circuits
from tests.sitework.shipped import SYSTEMS, shipped


def plainly_joined(circuit: Circuit) -> list[int]:
    """Return the net of each terminal by merging sets, numbered in terminal order."""
    group = {t.name: frozenset([t.name]) for t in circuit.terminals}
    for conductor in circuit.conductors:
        both = group[conductor.a] | group[conductor.b]
        group.update(dict.fromkeys(both, both))
    number: dict[frozenset[str], int] = {}
    return [number.setdefault(each, len(number)) for each in group.values()]


def same_afresh(circuit: Circuit) -> bool:
    """Tell whether nets and every table are those of the same circuit made of nothing."""
    assert circuit.edit_of is not None
    afresh = replace(circuit, edit_of=None)
    edited, solved = solve(circuit), solve(afresh)
    return circuit.nets.of == afresh.nets.of and list(circuit.nets.at) == plainly_joined(circuit) \
        and edited == solved and edited.moves_of() == solved.moves_of() \
        and all(could_be_live(edited, s.name) == could_be_live(solved, s.name)
                for s in circuit.supplies)


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_single_fault_of_what_ships(name: str) -> None:
    faults = single_faults(shipped(name).circuit)
    assert len(faults) > 20
    assert [fault.words for fault in faults if not same_afresh(fault.circuit)] == []


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_every_single_fault_of_any_circuit(circuit: Circuit) -> None:
    assert all(same_afresh(fault.circuit) for fault in single_faults(circuit))


@settings(max_examples=100, deadline=None)
@given(circuits(), st.data())
def test_any_edit_of_an_edit(circuit: Circuit, data: st.DataObject) -> None:
    """Conductors out, in and in another order; the same of contacts and loads; all over again."""
    terminal = st.sampled_from([t.name for t in circuit.terminals])
    for _ in range(3):
        new = data.draw(st.lists(st.builds(
            lambda a, b: Conductor("new", a, b, "core", HERE), terminal, terminal), max_size=3))
        kept = data.draw(st.lists(st.sampled_from([*circuit.conductors, *new] or [None]),
                                  unique_by=id))
        order = data.draw(st.booleans())
        conductors = tuple(c for c in (*circuit.conductors, *new) if any(c is k for k in kept))
        circuit = replace(
            circuit, edit_of=circuit,
            conductors=conductors if order else tuple(c for c in kept if c),
            contacts=data.draw(st.sampled_from([circuit.contacts, circuit.contacts[1:]])),
            loads=data.draw(st.sampled_from([circuit.loads, circuit.loads[1:]])),
            devices=())
        assert same_afresh(circuit)


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_one_conductor_or_contact_out(circuit: Circuit) -> None:
    assert all(same_afresh(without(circuit, each))
               for each in (*circuit.conductors, *circuit.contacts))


def test_other_switches_or_terminals_take_nothing_over() -> None:
    circuit = shipped(SYSTEMS[0]).circuit
    assert circuit.over_contacts
    fewer = replace(circuit, edit_of=circuit, variables=circuit.variables[:-1], contacts=tuple(
        replace(c, when=c.when[:0]) for c in circuit.contacts), devices=())
    turned = replace(circuit, edit_of=circuit, terminals=circuit.terminals[::-1])
    for edited in (fewer, turned):
        assert edited.over_contacts == replace(edited, edit_of=None).over_contacts
        assert edited.over_loads == replace(edited, edit_of=None).over_loads
        assert edited.nets == replace(edited, edit_of=None).nets
    assert fewer.over_loads != circuit.over_loads
    assert turned.nets != circuit.nets
