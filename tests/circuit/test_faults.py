"""Single faults: each is an edit that changes something, and where it lands a person could land."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings

from generator.circuit.elements import Conductor, Contact, Device, Load, Supply, Terminal, Variable
from generator.circuit.faults import Fault, FaultKind, single_faults
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.potentials import solve
from generator.recipe.moving import Word
from tests.circuit.flagship import WALLS, system
from tests.circuit.made_circuits import HERE, circuits


def at(name: str, row: str = "", fixed: bool = False) -> Terminal:
    return Terminal(name, "anything", 9, row, HERE, fixed)


def core(name: str, a: str, b: str, cable: str = "", kind: str = "core") -> Conductor:
    return Conductor(name, a, b, kind, HERE, cable=cable)


SMALL = Circuit(
    variables=(Variable("Q1.switch", ("off", "on"), "isolator", HERE),
               Variable("Q1.fuse", ("out", "fitted"), "fuse", HERE),
               Variable("M1.valve", ("shut", "open"), "position", HERE)),
    terminals=(at("Q1:L", "in", True), at("Q1:N", "in", True), at("Q1:E", "in", True),
               at("X1:1", "strip"), at("X1:2", "strip"), at("X1:3", "strip"), at("X1:4", "strip"),
               at("M1:L", "flex", True), at("M1:N", "flex", True), at("X2:9", "strip")),
    conductors=(core("W1.BN", "X1:1", "M1:L", "W1"), core("W1.BU", "X1:3", "M1:N", "W1"),
                core("bar", "X1:3", "X1:4", kind="link"), core("in", "M1:N", "X2:9", kind="joint")),
    contacts=(Contact("Q1.pole", "Q1:L", "X1:1", ((0, True),), HERE),
              Contact("Q1.fuse-link", "Q1:L", "X1:1", ((1, True),), HERE),
              Contact("Q1.neutral", "Q1:N", "X1:3", (), HERE)),
    loads=(Load("M1.motor", "M1:L", "M1:N", "motor", 6.0, "", HERE),),
    devices=(Device(2, Word("M1.motor"), ("M1.motor",)),),
    heat_sources=(),
    supplies=(Supply("mains", "", "Q1:L", "Q1:N", "Q1:E", ((0, False),), HERE),),
    zones=(), closed=())


def of(kind: FaultKind, circuit: Circuit = SMALL) -> list[Fault]:
    return [fault for fault in single_faults(circuit) if fault.kind is kind]


def said(kind: FaultKind) -> list[str]:
    return [fault.words for fault in of(kind)]


def test_each_kind_on_a_small_circuit_counted_by_hand() -> None:
    assert said(FaultKind.OPEN) == ["core `W1.BN` open", "core `W1.BU` open"]
    assert said(FaultKind.MISSING) == ["link `bar` out"]
    # 1 has one neighbour, 3 two, of which 4 is on its own net; so has the link's end on 4, which
    # cannot come to lie on its own other end; fixed ends stay.
    assert said(FaultKind.NEIGHBOUR) == [
        "core `W1.BN` on `X1:2`, not `X1:1`", "core `W1.BU` on `X1:2`, not `X1:3`",
        "link `bar` on `X1:2`, not `X1:3`"]
    assert said(FaultKind.SWAPPED) == ["cores `W1.BN` and `W1.BU` swapped at `X1:1` and `X1:3`"]
    # 3 and 4 are joined already.
    assert said(FaultKind.BRIDGED) == ["`X1:1` and `X1:2` bridged", "`X1:2` and `X1:3` bridged"]
    assert said(FaultKind.DEAD) == ["contact `Q1.pole` never closes",
                                    "contact `Q1.fuse-link` never closes",
                                    "contact `Q1.neutral` never closes"]
    # A fuse does not weld, and what is always made does not weld either.
    assert said(FaultKind.WELDED) == ["contact `Q1.pole` never opens"]
    assert said(FaultKind.STUCK) == ["`M1.valve` stuck shut", "`M1.valve` stuck open"]
    assert said(FaultKind.BURNT) == ["`M1.motor` burnt out"]
    assert len(single_faults(SMALL)) == 16


def test_a_stuck_device_goes_to_where_it_sticks_and_stays_there() -> None:
    for fault in of(FaultKind.STUCK):
        motion, column = move(solve(fault.circuit)), SMALL.space.variables[2]
        wanted = column if fault.words.endswith("open") else 0
        assert motion.moves == ((2, SMALL.space.full if wanted else 0),)


def test_what_is_burnt_out_takes_nothing_and_lets_nothing_through() -> None:
    burnt = solve(of(FaultKind.BURNT)[0].circuit)
    healthy = solve(SMALL)
    load = SMALL.loads[0]
    assert healthy.runs(load)
    assert not burnt.runs(burnt.circuit.loads[0])
    lost = replace(SMALL, conductors=SMALL.conductors[:1], contacts=SMALL.contacts[:2])
    back = solve(replace(lost, loads=burnt.circuit.loads))
    assert solve(lost).live("M1:N")
    assert not back.live("M1:N")


def essence(circuit: Circuit) -> tuple[object, ...]:
    """Return what decides how a circuit behaves, with nets by plain merging of sets."""
    net = {t.name: frozenset([t.name]) for t in circuit.terminals}
    for conductor in circuit.conductors:
        both = net[conductor.a] | net[conductor.b]
        net.update(dict.fromkeys(both, both))
    return (frozenset(net.values()), circuit.contacts, circuit.loads, circuit.devices)


@pytest.mark.parametrize("wall", WALLS)
def test_every_edit_changes_the_circuit_and_no_edit_is_there_twice(wall: str) -> None:
    circuit = system(wall).circuit
    faults = single_faults(circuit)
    made = [essence(fault.circuit) for fault in faults]
    assert len(made) > 150
    assert essence(circuit) not in made
    assert len(set(made)) == len(made)
    assert {fault.kind for fault in faults} == set(FaultKind)
    assert all(fault.place.file for fault in faults)


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_the_same_of_any_circuit(circuit: Circuit) -> None:
    made = [essence(fault.circuit) for fault in single_faults(circuit)]
    assert essence(circuit) not in made
    assert len(set(made)) == len(made)
    assert all(len(fault.circuit.terminals) == len(circuit.terminals)
               for fault in single_faults(circuit))


def moved_ends(before: Circuit, after: Circuit) -> Counter[str]:
    """Return the ends of cores and links that are landed now, less those that were before."""
    def landed(circuit: Circuit) -> Counter[str]:
        return Counter(f"{c.name} {end}" for c in circuit.conductors for end in (c.a, c.b))

    new = landed(after)
    new.subtract(landed(before))
    return Counter({end: n for end, n in new.items() if n})


@pytest.mark.parametrize("wall", WALLS)
def test_a_core_goes_to_the_terminal_beside_its_own_and_the_end_in_a_head_stays(wall: str) -> None:
    circuit = system(wall).circuit
    rows: dict[tuple[str, str], list[str]] = {}
    for terminal in circuit.terminals:
        rows.setdefault((terminal.part, terminal.row), []).append(terminal.name)
    seen = 0
    for fault in of(FaultKind.NEIGHBOUR, circuit):
        ends = moved_ends(circuit, fault.circuit)
        assert sorted(ends.values()) == [-1, 1]
        gone, come = (next(end.split()[1] for end, n in ends.items() if n == sign)
                      for sign in (-1, 1))
        row = rows[circuit.terminal[gone].part, circuit.terminal[gone].row]
        assert abs(row.index(gone) - row.index(come)) == 1
        assert not circuit.terminal[gone].fixed
        seen += 1
    assert seen > 40


@pytest.mark.parametrize("wall", WALLS)
def test_cores_change_places_within_a_cable_at_one_part_where_a_person_lands_them(wall: str
                                                                                   ) -> None:
    circuit = system(wall).circuit
    faults = of(FaultKind.SWAPPED, circuit)
    assert len(faults) > 20
    cable = {c.name: c.cable for c in circuit.conductors}
    for fault in faults:
        ends = moved_ends(circuit, fault.circuit)
        assert sorted(ends.values()) == [-1, -1, 1, 1]
        assert len({cable[end.split()[0]] for end in ends}) == 1
        terminals = {end.split()[1] for end in ends}
        assert len({circuit.terminal[t].part for t in terminals}) == 1
        assert not any(circuit.terminal[t].fixed for t in terminals)


@pytest.mark.parametrize("wall", WALLS)
def test_no_fuse_welds_and_every_other_contact_can_that_opens(wall: str) -> None:
    circuit = system(wall).circuit
    welded = {f.words.split("`")[1] for f in of(FaultKind.WELDED, circuit)}
    fuses = {c.name for c in circuit.contacts
             if any(circuit.variables[v].kind == "fuse" for v, _ in c.when)}
    assert fuses
    assert welded == {c.name for c in circuit.contacts if c.when} - fuses
