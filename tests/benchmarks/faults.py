"""Prints what faults and their tests cost and find: `python -m tests.benchmarks.faults`.

First all single faults of the flagship in all states, beside the plain way of `circuit`: one
union-find for each state of each faulty circuit, giving only what is joined to line and neutral.
Every n-th fault is timed the plain way and the rest taken as like it. Then each shipped system:
how many live and dead tests there are beside the fewest there could be, and how many of its faults
they show. Times are of the processor, the least of some runs, so that what else the machine does
counts little, and circuits are new for each; nothing here is a test.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from generator.circuit.faults import Fault, single_faults
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.potentials import solve
from generator.sitework.coverage import Coverage, Shows, classes
from generator.sitework.unseen import MISSED
from tests.benchmarks.circuit import all_at_once, anew, by_chance, state_by_state, verdict
from tests.circuit.flagship import system
from tests.sitework.shipped import SYSTEMS, covered, shipped, tried

T = TypeVar("T")

PLAIN_SAMPLE = 4
"""Faults that are solved the plain way as well."""


def timed(work: Callable[[], object], repeats: int = 5) -> float:
    """Return the least processor time in s of some runs."""
    return timed_on(lambda _: work(), lambda: None, repeats)


def timed_on(work: Callable[[T], object], made: Callable[[], T], repeats: int = 5) -> float:
    """Return the least processor time in s of some runs, each on what is made anew for it."""
    times = []
    for _ in range(repeats):
        on = made()
        start = time.process_time()
        work(on)
        times.append(time.process_time() - start)
    return min(times)


def plain(faults: tuple[Fault, ...]) -> float:
    """Return in s what all faults take the plain way, from some of them; both ways must agree."""
    some = faults[::max(1, len(faults) // PLAIN_SAMPLE)]
    for fault in some:
        fast, slow = all_at_once(fault.circuit), state_by_state(fault.circuit)
        assert fast.terminals() == slow.terminals(), "the two ways differ"
    each = [timed(lambda f=fault: state_by_state(f.circuit), 2) for fault in some]
    return sum(each) / len(each) * len(faults)


def speed(said: str, circuit: Circuit, target: bool) -> None:
    """Print what all states of all single faults take, beside one union-find for each."""
    faults = single_faults(circuit)
    made = timed_on(single_faults, lambda: replace(circuit))

    def faulty() -> list[Circuit]:
        # What each has worked out while faults were told apart does not count as known.
        return anew(fault.circuit for fault in faults)

    same = timed_on(lambda circuits: list(map(all_at_once, circuits)), faulty)
    whole = timed_on(lambda circuits: [move(solve(each)).settled for each in circuits], faulty)
    slow = plain(faults)
    print(f"{said}: K = {len(circuit.variables)}, {2 ** len(circuit.variables):,} states, "
          f"{len(faults)} single faults")
    print(f"  made {1000 * made:.1f} ms; joined to line and neutral {1000 * same:.1f} ms, solved "
          f"and moved {1000 * whole:.1f} ms; one union-find a state {slow:.2f} s")
    if target:
        verdict("all states of all single faults, made, solved and moved", made + whole, 1,
                unit=" s")
        verdict("ratio, same answers", slow / same, 300, at_least=True)
    print(f"  ratio, same answers {slow / same:.0f}, with what runs, moves and settles "
          f"{slow / whole:.0f}; {1e6 * same / len(faults):.0f} and "
          f"{1e6 * whole / len(faults):.0f} us a fault")


def tests(name: str) -> None:
    """Print the live and dead tests of a shipped system beside their bounds."""
    found, made = covered(name), tried(name)
    dead = found.dead_tests
    reads, live = sum(len(t.reads) for t in made.trials), len(made.trials)
    print(f"  live: {live} settings, at least {made.at_least}; {reads} readings in them, at least "
          f"{made.reads_at_least}; dead: {len(dead.tests)} readings, counting bound "
          f"{dead.at_least}")
    if live > made.at_least:
        print(f"  settings above the bound: {live - made.at_least}")


def detection(found: Coverage) -> None:
    """Print how many faults are found, by the surest way, and why the rest never is."""
    counts = {way: sum(1 for c in found.faults if c.surest is way) for way in Shows}
    print("  " + ", ".join(f"{way} {count}" for way, count in counts.items())
          + f"; {len(classes(found))} classes that can be told apart")
    why = [c.why_never for c in found.faults if c.why_never]
    for reason in dict.fromkeys(why):
        print(f"    never, {reason}: {why.count(reason)}")
    counted = [c for c in found.faults if not c.why_never or c.why_never == MISSED]
    shown = sum(1 for c in counted if c.shows)
    tested = sum(1 for c in counted if c.shows and c.surest is not Shows.LOOKING)
    print(f"  in service, not equivalent: {len(counted)} of {len(found.faults)} faults, by live "
          f"and dead tests {100 * tested / len(counted):.1f} %, with a look at the terminals "
          f"{100 * shown / len(counted):.1f} %")


def main() -> None:
    speed("flagship as fitted", system("fitted").circuit, target=True)
    for variables in (10, 14, 18):
        speed("circuit made by chance", by_chance(variables), target=False)
    for name in SYSTEMS:
        print(f"{name} ({shipped(name).wall.system.stands}):")
        tests(name)
        detection(covered(name))


if __name__ == "__main__":
    main()
