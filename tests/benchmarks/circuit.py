"""Prints what the circuit model costs: `python -m tests.benchmarks.circuit`, from the root.

Beside it stands the plain way, one union-find for each state, as fast as it is honestly written:
conductors are merged once beforehand, contacts are known by the bits they ask for, and it gives
only which terminals are joined to a line and which to a neutral. Two ratios are printed: the model
giving the same answers and no more, and the model giving all it has (standings, runs, stable and
reachable states as well), which the plain way does not. Times are medians and vary with the
machine; nothing here is a test.
"""

from __future__ import annotations

import random
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import NamedTuple

from generator.checks.catalogue import JOB_RULES, SYSTEM_RULES
from generator.checks.subject import job_subject
from generator.circuit.currents import flows
from generator.circuit.flat import Circuit
from generator.circuit.moves import Motion, move
from generator.circuit.networks import networks
from generator.circuit.potentials import solve
from generator.circuit.reach import Nets, neighbours, reach
from generator.circuit.tables import Table
from tests.circuit.flagship import NAME, WALLS, flagship, system
from tests.circuit.made_circuits import made

ROOT = Path(__file__).parents[2]


class Reached(NamedTuple):
    """The nets, and for each net the states joined to a line, and to a neutral."""

    nets: Nets
    by_line: Mapping[int, Table]
    by_neutral: Mapping[int, Table]

    def terminals(self) -> dict[str, tuple[Table, Table]]:
        """Return the two tables of each terminal: the whole answer, whatever nets are called."""
        return {terminal: (self.by_line.get(net, 0), self.by_neutral.get(net, 0))
                for terminal, net in self.nets.of.items()}


def timed(work: Callable[[], object], repeats: int = 5) -> float:
    """Return the median time in s of some runs, the first one left out."""
    times = []
    for _ in range(repeats + 1):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return median(times[1:])


def fresh(circuit: Circuit) -> Motion:
    """Solve and move a circuit, with nothing remembered of an earlier run."""
    motion = move(solve(replace(circuit)))
    assert motion.settled & ~motion.endless
    return motion


def merged(circuit: Circuit) -> dict[str, int]:
    """Return the number of the net that each terminal is on."""
    group = {t.name: {t.name} for t in circuit.terminals}
    for conductor in circuit.conductors:
        if group[conductor.a] is not group[conductor.b]:
            both = group[conductor.a] | group[conductor.b]
            group.update(dict.fromkeys(both, both))
    number: dict[int, int] = {}
    return {t: number.setdefault(id(g), len(number)) for t, g in group.items()}


def state_by_state(circuit: Circuit) -> Reached:
    """Return for each terminal the states joined to a line, and to a neutral: the plain way."""
    net = merged(circuit)
    nets = range(len(set(net.values())))
    contacts = [(net[c.a], net[c.b], sum(1 << v for v, _ in c.when),
                 sum(1 << v for v, value in c.when if value)) for c in circuit.contacts]
    lines = [net[s.line] for s in circuit.supplies]
    neutrals = [net[s.neutral] for s in circuit.supplies]
    by_line, by_neutral = ([bytearray(1 << len(circuit.variables)) for _ in nets]
                           for _ in range(2))
    for state in range(1 << len(circuit.variables)):
        head = list(nets)
        for a, b, mask, wanted in contacts:
            if state & mask == wanted:
                while head[a] != a:
                    a = head[a]
                while head[b] != b:
                    b = head[b]
                head[a] = b
        top = []
        for n in nets:
            while head[n] != n:
                n = head[n]
            top.append(n)
        live, back = {top[n] for n in lines}, {top[n] for n in neutrals}
        for n in nets:
            if top[n] in live:
                by_line[n][state] = 1
            if top[n] in back:
                by_neutral[n][state] = 1
    named = Nets({t: i for i, t in enumerate(net)}, list(net.values()), len(nets))
    return Reached(named, *({n: table(marks[n]) for n in nets} for marks in (by_line, by_neutral)))


def table(marks: bytearray) -> Table:
    return int(bytes(marks[::-1]).translate(bytes([48, 49]) + bytes(254)), 2)


def all_at_once(circuit: Circuit) -> Reached:
    """Return the same as `state_by_state`, by the model's tables."""
    nets, full = circuit.nets, circuit.space.full
    beside, at, place = neighbours(nets, circuit.over_contacts), nets.at, nets.place
    lines = {at[place[supply.line]]: full for supply in circuit.supplies}
    neutrals = {at[place[supply.neutral]]: full for supply in circuit.supplies}
    return Reached(nets, reach(beside, lines), reach(beside, neutrals))


def anew(circuits: Iterable[Circuit]) -> list[Circuit]:
    """Return circuits that have nothing worked out yet, nor has any that they are edits of."""
    made: dict[int, Circuit] = {}

    def copied(circuit: Circuit) -> Circuit:
        if id(circuit) not in made:
            made[id(circuit)] = replace(
                circuit, edit_of=circuit.edit_of and copied(circuit.edit_of))
        return made[id(circuit)]

    return list(map(copied, circuits))


def by_chance(variables: int) -> Circuit:
    """Return a circuit made by chance: some 40 nets, contacts on `variables`, 12 loads."""
    chance = random.Random(variables)
    devices = max(2, variables * 3 // 10)
    switches = variables - devices
    strip = [f"X1:{i}" for i in range(1, 41)]
    contacts = [("Q1:L", strip[0], ()), ("Q1:N", strip[1], ())]
    for i in range(2, 3 * variables):
        a, b = strip[chance.randrange(0, i % 38 + 2)], strip[(i % 38) + 2]
        if strip[1] not in (a, b):
            contacts.append((a, b, ((chance.randrange(variables), chance.random() < 0.6),)))
    loads = [(strip[chance.randrange(2, 40)], strip[1], "motor", 6.0) for _ in range(12)]
    return made(strip, [], contacts, loads, switches, range(devices))


def verdict(said: str, value: float, target: float, at_least: bool = False, unit: str = "") -> None:
    reached = value >= target if at_least else value <= target
    bound = "at least" if at_least else "at most"
    print(f"  {said}: {value:.3g}{unit}, target {bound} {target:g}{unit}: "
          f"{'reached' if reached else 'MISSED'}")


def compare(said: str, circuit: Circuit) -> None:
    """Print how many times faster the model is than the plain way."""
    assert all_at_once(circuit).terminals() == state_by_state(circuit).terminals(), \
        "the two ways differ"
    plain = timed(lambda: state_by_state(circuit), 3)
    same = timed(lambda: all_at_once(replace(circuit)), 9)
    whole = timed(lambda: fresh(circuit), 9)
    print(f"{said}: K = {len(circuit.variables)}, {2 ** len(circuit.variables):,} states, "
          f"{len(set(merged(circuit).values()))} nets, {len(circuit.contacts)} contacts, "
          f"{len(circuit.loads)} loads")
    print(f"  one union-find a state {1000 * plain:.1f} ms, model with the same answers "
          f"{1000 * same:.2f} ms, solve and move {1000 * whole:.2f} ms")
    verdict("ratio, same answers", plain / same, 100, at_least=True)
    # Solving also follows loads, closed parts and motion, which the plain way leaves out.
    print(f"  ratio, with what runs, moves and is reached through loads: {plain / whole:.3g}")
    verdict("most memory", peak(circuit), 100, unit=" MB")


def currents(said: str, circuit: Circuit) -> None:
    """Print how many networks the settled states have, and what solving them costs."""
    potentials = solve(circuit)
    settled = move(potentials).settled & ~potentials.shorted
    solves = len(networks(potentials, settled))
    grouping = timed(lambda: networks(potentials, settled), 3)
    whole = timed(lambda: flows(potentials, settled), 3)
    print(f"{said}: K = {len(circuit.variables)}, currents of {settled.bit_count():,} settled "
          f"states by {solves} solves, {1000 * whole:.1f} ms, of which grouping the states "
          f"{1000 * grouping:.1f} ms")


def peak(circuit: Circuit) -> float:
    """Return the most memory in MB that solving and moving a circuit takes."""
    tracemalloc.start()
    fresh(circuit)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return most / 1e6


def all_rules() -> int:
    """Wire, solve and judge the flagship by every rule; return how many verdicts had a case."""
    job = job_subject(flagship().job)
    verdicts = [rule.judge(subject) for subject in (job.found, job.fitted) for rule in SYSTEM_RULES]
    return sum(v.asked > 0 for v in [*verdicts, *(rule.judge(job) for rule in JOB_RULES)])


def command() -> None:
    """Print how long the command takes to check the flagship, start of Python included."""
    file = ROOT / "recipes" / "conversions" / f"{NAME}.yaml"
    program = Path(sys.executable).with_name("handbook")
    line = [str(program), "check", str(file)]
    run = subprocess.run(line, cwd=ROOT, capture_output=True, text=True, check=False)
    if run.returncode:
        print(f"  handbook check: not timed, exit status {run.returncode}: {run.stderr[-200:]}")
        return
    seconds = timed(lambda: subprocess.run(line, cwd=ROOT, capture_output=True, check=True), 3)
    verdict("handbook check of one conversion, with start-up", seconds, 1, unit=" s")


def main() -> None:
    compare("flagship as fitted", system("fitted").circuit)
    for variables in (10, 14, 18):
        compare("circuit made by chance", by_chance(variables))
    for wall in WALLS:
        currents(f"flagship {wall}", system(wall).circuit)
    for variables in (10, 14, 18):
        currents("circuit made by chance", by_chance(variables))
    print(f"flagship, found and fitted: {len(SYSTEM_RULES) + len(JOB_RULES)} rules, "
          f"{all_rules()} verdicts with a case")
    verdict("wired, solved and judged by all rules", timed(all_rules), 0.3, unit=" s")
    command()


if __name__ == "__main__":
    main()
