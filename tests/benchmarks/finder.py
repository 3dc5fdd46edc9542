"""How many measurements the fault finder takes on every shipped system, and how long it thinks.

Run as `python -m tests.benchmarks.finder`.
"""

from __future__ import annotations

import time

from generator.sitework.coverage import coverage
from generator.sitework.finder.searches import finder
from tests.sitework.test_finder import SYSTEMS, system


def main() -> None:
    for name in SYSTEMS:
        subject = system(name)
        covered = coverage(subject)
        before = time.process_time()
        found = finder(subject, covered)
        seconds = time.process_time() - before
        if not found.searches:
            print(f"{name}: none, a closed part decides what runs")
            continue
        above = max(s.figures.expected - s.figures.bound for s in found.searches)
        print(f"{name}: {len(found.suspects)} faults, {len(found.searches)} complaints, "
              f"{found.expected:.2f} expected, bound {found.bound:.2f}, "
              f"the one furthest above it {above:+.2f}, {found.worst} at worst, {seconds:.2f} s")


if __name__ == "__main__":
    main()
