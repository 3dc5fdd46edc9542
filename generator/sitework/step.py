"""One step of the work as it is said to whoever does it, and the phases steps belong to."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Phase(StrEnum):
    """The phases of a day's work, in order."""

    SURVEY = "survey"
    DEAD = "dead"
    TAKE_OUT = "take out"
    FIX = "fix"
    CONNECT = "connect"
    CHECK_DEAD = "check dead"
    ENERGISE = "energise"
    TEST = "test"
    CLOSE = "close"


@dataclass(frozen=True)
class Step:
    """What is done, where, and what belongs to it; what does not apply is nothing or 0.

    `says` is what the core does; `start` and `end` are the terminals its end comes from and goes
    to; `torque` is in Nm, `strips` in mm, each only where the part states it; `gate` says that the
    step parts the work from its supply, or joins it again.
    """

    does: str
    place: str = ""
    part: str = ""
    cable: str = ""
    core: str = ""
    sleeve: str = ""
    says: str = ""
    start: str = ""
    end: str = ""
    other: str = ""
    tool: str = ""
    torque: float = 0.0
    strips: float = 0.0
    look: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    gate: bool = False


@dataclass(frozen=True)
class PhaseSteps:
    """A phase with its steps, and what belongs to each of them."""

    phase: Phase
    steps: tuple[Step, ...]
    always: str = ""
