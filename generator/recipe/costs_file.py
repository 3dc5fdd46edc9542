"""The one file that may say what the moves of a fault finder are counted as."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, mistake
from generator.recipe.costs import USUAL, Costs
from generator.recipe.library import Library
from generator.recipe.wall import Source

NAME = "fault-finder"
"""What that file is called, without .yaml."""


def read_costs(library: Library) -> Costs:
    """Return what the recipes say of costs, else the usual ones; raises Unreadable."""
    path = library.root / "costs" / f"{NAME}.yaml"
    if not path.is_file():
        return USUAL
    model = library.source(path).model
    return model if isinstance(model, Costs) else USUAL


def costs_mistakes(source: Source) -> Iterator[Finding]:
    """Yield that a file of costs has a name under which nobody looks for it."""
    if source.name != NAME:
        yield mistake(
            "wrong-file-name", "Nobody looks for costs under this name.", source.place("kind"),
            found=f"`{source.name}.yaml`", expected=f"`costs/{NAME}.yaml`",
            hint="one file says the costs for every system")
