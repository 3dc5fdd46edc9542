"""A circuit simulator as oracle: what each terminal is, told from simulated voltages alone.

Every state is solved under several conditions. With all loads taken out, what still holds its
voltage is joined hard; line stands at 230 V, neutral at 0 V and earth, for this purpose, at 50 V,
so that all three can be told apart and anything shorted lies in between. With loads in, earth is at
0 V. A leak of 1 GOhm from every net to a reference makes floating nets defined; the reference is
tried at 0 V and at 230 V, and what follows it floats.
"""

from __future__ import annotations

import os
import subprocess
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from generator.circuit.flat import Circuit

VOLTS = 230.0
EARTH_MARK = 50.0
NEAR = 2.0  # V; less than this is equality
CLOSED, OPEN, SOURCE, LEAK = 1e-3, 1e13, 1e-2, 1e9  # ohm
EQUAL = 10_000.0  # ohm; equal loads keep every voltage between well away from 0 and 230

Volts = dict[str, float]


class Undecided(AssertionError):
    """A voltage that is neither one thing nor the other."""


@dataclass(frozen=True)
class Condition:
    """How the loads, the earth and the reference of the leaks are set for one solve."""

    loads: str
    earth: float
    reference: float


OUT = (Condition("out", EARTH_MARK, 0.0), Condition("out", EARTH_MARK, VOLTS))
IN = (Condition("equal", 0.0, 0.0), Condition("equal", 0.0, VOLTS))
TRUE = Condition("true", 0.0, 0.0)
ALL = (*OUT, *IN, TRUE)


@dataclass(frozen=True)
class Netlist:
    """The circuit as the simulator takes it; nets are terminals merged over conductors."""

    circuit: Circuit
    net: dict[str, int]

    @property
    def nets(self) -> range:
        return range(1, 1 + len(set(self.net.values())))

    def lines(self) -> Iterator[str]:
        yield "* one circuit, all states"
        for source, volts in (("ref", 0.0), ("line", VOLTS), ("neutral", 0.0), ("earth", 0.0)):
            yield f"V{source} {source} 0 dc {volts}"
        for i, supply in enumerate(self.circuit.supplies):
            for pole in ("line", "neutral", "earth"):
                yield f"Rsource{pole}{i} {pole} {self.net[getattr(supply, pole)]} {SOURCE}"
        for i, contact in enumerate(self.circuit.contacts):
            yield f"Rcontact{i} {self.net[contact.a]} {self.net[contact.b]} {OPEN}"
        for i, load in enumerate(self.circuit.loads):
            yield f"Rload{i} {self.net[load.a]} {self.net[load.b]} {EQUAL}"
        for net in self.nets:
            yield f"Rleak{net} {net} ref {LEAK}"

    def ohms(self, loads: str, load: int) -> float:
        if self.circuit.loads[load].kind in ("volt-free input", "burnt out"):
            return OPEN
        return {"out": OPEN, "equal": EQUAL,
                "true": VOLTS**2 / self.circuit.loads[load].watts}[loads]


def netlist(circuit: Circuit) -> Netlist:
    group = {t.name: {t.name} for t in circuit.terminals}
    for conductor in circuit.conductors:
        both = group[conductor.a] | group[conductor.b]
        group.update(dict.fromkeys(both, both))
    number: dict[str, int] = {}
    return Netlist(circuit, {t: number.setdefault(min(group[t]), len(number) + 1) for t in group})


def simulate(
    circuit: Circuit, states: Iterable[int], conditions: Iterable[Condition] = ALL,
    tester: tuple[str, str, float] | None = None,
) -> dict[tuple[Condition, int], Volts]:
    """Return the voltage of every terminal in each condition and state, from one process.

    With a tester (terminal, terminal, ohm) that resistance lies between its two terminals.
    """
    made, wanted = netlist(circuit), [(c, s) for c in conditions for s in states]
    ends = [] if tester is None else [
        f"Rtester {made.net[tester[0]]} {made.net[tester[1]]} {tester[2]}"]
    text = "\n".join([*made.lines(), *ends, ".control", "set numdgt=9", *_commands(made, wanted),
                      "quit", ".endc", ".end"]) + "\n"
    # It reads a start-up file from the home folder, and does nothing at all without one named.
    home = os.environ | {"HOME": tempfile.gettempdir()}
    run = subprocess.run(["ngspice", "-b", "/dev/stdin"], input=text, capture_output=True,
                         text=True, check=False, timeout=120, env=home)
    return dict(zip(wanted, _parsed(made, run.stdout, len(wanted)), strict=True))


def _commands(made: Netlist, wanted: list[tuple[Condition, int]]) -> Iterator[str]:
    set_before, closed_before = None, [False] * len(made.circuit.contacts)
    printed = "print " + " ".join(f"v({net})" for net in made.nets)
    for condition, state in wanted:
        if condition != set_before:
            yield f"alter vref dc = {condition.reference}"
            yield f"alter vearth dc = {condition.earth}"
            for i in range(len(made.circuit.loads)):
                yield f"alter rload{i} = {made.ohms(condition.loads, i)}"
        for i, contact in enumerate(made.circuit.contacts):
            closed = all(bool(state & 1 << v) is value for v, value in contact.when)
            if closed != closed_before[i]:
                closed_before[i] = closed
                yield f"alter rcontact{i} = {CLOSED if closed else OPEN}"
        set_before = condition
        yield from ("op", "echo solved", printed, "destroy all")


def _parsed(made: Netlist, output: str, solves: int) -> Iterator[Volts]:
    blocks = output.split("solved\n")[1:]
    if len(blocks) != solves:
        raise AssertionError(f"{len(blocks)} solves printed, {solves} asked for")
    for block in blocks:
        volts = {line.partition(" = ")[0]: float(line.partition(" = ")[2])
                 for line in block.splitlines() if line.startswith("v(")}
        if volts.keys() != {f"v({net})" for net in made.nets}:
            raise AssertionError(f"{len(volts)} voltages printed, {len(made.nets)} asked for")
        yield {terminal: volts[f"v({net})"] for terminal, net in made.net.items()}


def hard(low: float, high: float) -> str:
    """Return what a terminal is with the loads out, or nothing where it follows the reference."""
    if abs(high - low) > NEAR:
        return ""
    if abs(low - VOLTS) < NEAR:
        return "live"
    if abs(low - EARTH_MARK) < NEAR:
        return "earth"
    # Neutral, or neutral with earth on it, lies below the earth's mark; a short lies above it.
    return "neutral" if low < EARTH_MARK else "shorted"


def soft(low: float, high: float) -> str:
    """Return what a terminal that nothing holds hard is, with equal loads in."""
    if abs(high - low) > 50:
        return "floating"
    if max(abs(low), abs(high)) < NEAR:
        return "neutral through a load"
    if max(abs(low - VOLTS), abs(high - VOLTS)) < NEAR:
        return "live through a load"
    if abs(high - low) > NEAR or not 10 < low < VOLTS - 10:
        raise Undecided(f"{low} V, and {high} V with the reference at {VOLTS} V")
    return "between"


@dataclass(frozen=True)
class Simulated:
    """One state as simulated; `standing` is nothing where a short elsewhere pulls it anywhere."""

    standing: dict[str, str]
    shorted: bool
    equal: Volts
    true: Volts


def simulated(circuit: Circuit, states: Iterable[int]) -> dict[int, Simulated]:
    """Return each state as simulated."""
    states = tuple(states)
    volts = simulate(circuit, states)
    return {state: _told({c: volts[c, state] for c in ALL}) for state in states}


def _told(volts: dict[Condition, Volts]) -> Simulated:
    out, loaded = ([volts[c] for c in pair] for pair in (OUT, IN))
    standing = {t: hard(out[0][t], out[1][t]) for t in out[0]}
    shorted = "shorted" in standing.values()
    if not shorted:
        standing = {t: held or soft(loaded[0][t], loaded[1][t]) for t, held in standing.items()}
    return Simulated(standing, shorted, loaded[0], volts[TRUE])
