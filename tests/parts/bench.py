"""A bench: parts on a board, joined by links, read as a recipe and solved in all states."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import combinations
from pathlib import Path

from generator.checks.subject import Subject, subject
from generator.circuit.moves import successors
from generator.circuit.path import find_path
from generator.circuit.reading import reading
from generator.circuit.tables import states
from generator.recipe.articles import Part
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source

RECIPES = Path(__file__).parents[2] / "recipes"
LIBRARY = Library(RECIPES)
FUSED = {"fused-connection-unit", "fused-connection-unit-unswitched", "plug-and-socket"}
FED = ("Q1.switch", "Q1.fuse")
"""The bench's own supply, on and fused."""
SHORT = {"L": "Q1:load-L", "N": "Q1:load-N", "E": "Q1:load-E"}

Pairs = set[tuple[str, str]]


@dataclass(frozen=True)
class Bench:
    """Parts and links, solved."""

    system: Subject

    def state(self, *worked: str) -> int:
        """Return the state with these switches and positions worked, whether it lasts or not."""
        return sum(1 << self.system.circuit.index[name] for name in worked)

    def settled(self, *worked: str) -> int:
        """Return the one state in which all comes to rest, from these switches and positions.

        Whichever device is quicker: with two ends, or none, the assertion fails.
        """
        motion, run, before = self.system.motion, 1 << self.state(*FED, *worked), 0
        while run != before:
            before, run = run, run | successors(motion.space, motion.moves, run)
        ends = list(states(run & motion.stable))
        assert len(ends) == 1, f"ends in {len(ends)} ways"
        return ends[0]

    def worked(self, state: int, name: str) -> bool:
        """Tell whether a switch or position is worked in a state."""
        return bool(state >> self.system.circuit.index[name] & 1)

    def reads(self, state: int, a: str, b: str = "Q1:supply-N") -> str:
        """Return what a tester shows."""
        return reading(self.system.potentials, state, a, b).words

    def runs(self, state: int, load: str) -> bool:
        """Tell whether a load runs in a state."""
        runs = self.system.potentials.runs(self.system.circuit.load[load])
        return bool(runs >> state & 1)

    def fires(self, state: int) -> bool:
        """Tell whether the one heat source on the bench gives heat in a state."""
        (source,) = self.system.circuit.heat_sources
        return bool(self.system.potentials.fires(source) >> state & 1)

    def joined(self, state: int, part: str) -> Pairs:
        """Return every pair of terminals of a part that are joined, names as in the part."""
        own = [t.name for t in self.system.circuit.terminals if t.part == part]
        return {(a.partition(":")[2], b.partition(":")[2]) for a, b in combinations(own, 2)
                if find_path(self.system.circuit, state, (a,), b)}


@cache
def bench(parts: str, links: str = "") -> Bench:
    """Return a bench of `M1 two-port-valve, ...` with links `L M1:motor, ...`; L, N, E are its own.

    The supply is a switched fused connection unit Q1; its fuse is 3 A, as is every other.
    """
    mounted = [("Q1", "fused-connection-unit"), *_pairs(parts)]
    joined = [(SHORT.get(a, a), SHORT.get(b, b)) for a, b in _pairs(links)]
    lines = [
        "kind: system", "name: a bench", "stands: found", "about: parts on a bench", "supplies:",
        "  bench: {says: bench, line: Q1:supply-L, neutral: Q1:supply-N, earth: Q1:supply-E, "
        "isolated-by: {Q1.switch: 'off'}}", "parts:",
        *(f"  {name}: {{is: {part}, at: bench{', fuse: 3' if part in FUSED else ''}}}"
          for name, part in mounted),
        *(["links:"] if joined else []),
        *(f"  link-{i}: {{from: '{a}', to: '{b}', does: bench}}"
          for i, (a, b) in enumerate(joined)),
    ]
    document = read_document("recipes/systems/bench.yaml", "\n".join(lines).encode())
    source = Source("bench", document, shaped(document))
    assert isinstance(source.model, System)
    return Bench(subject(read_wall(LIBRARY, source)))


def _pairs(text: str) -> list[tuple[str, str]]:
    return [(a, b) for a, b in (each.split() for each in text.split(",") if each.strip())]


def pairs(text: str) -> Pairs:
    """Return `common call, in out` as pairs."""
    return set(_pairs(text))


def part(name: str) -> Part:
    """Return a part as its file tells it."""
    model = LIBRARY.source(RECIPES / "parts" / f"{name}.yaml").model
    assert isinstance(model, Part)
    return model


def every_part() -> list[str]:
    """Return the name of every part, cables left out."""
    return [path.stem for path in LIBRARY.files("parts")
            if isinstance(LIBRARY.source(path).model, Part)]
