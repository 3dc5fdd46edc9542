"""What the moves of a fault finder are counted as; a judgement, which a file can change."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import Number, Shape, key


class Costs(Shape):
    """What each move on site is counted as, against one reading. No source: a judgement."""

    kind: Literal["costs"] = key("costs: what the moves of the fault finder are counted as.")
    reading: Number = key("A reading, or a look at one terminal.", 1, gt=0, le=1000)
    control: Number = key("Moving one control: a call or a dial.", 2, ge=0, le=1000)
    valve: Number = key("Waiting for a valve to travel.", 2, ge=0, le=1000)
    lid: Number = key("Opening the cover of one box.", 3, ge=0, le=1000)
    isolating: Number = key("Isolating, locking off and proving dead.", 3, ge=0, le=1000)


USUAL = Costs(kind="costs")
"""What is counted where no file says otherwise."""
