"""The plan of a conversion: every step of the day in its phase, in the order it is done."""

from __future__ import annotations

from dataclasses import dataclass

from generator.sitework.coverage import Coverage
from generator.sitework.end_steps import connect_steps, take_out_steps
from generator.sitework.other_steps import (
    author_steps,
    check_steps,
    close_steps,
    dead_steps,
    energise_steps,
    fix_steps,
    survey_steps,
    test_steps,
)
from generator.sitework.step import Phase, PhaseSteps, Step
from generator.sitework.trials import Trials
from generator.sitework.work import Work

ALWAYS = {
    Phase.DEAD: "Agree the time with the people in the house; end all calls and the over-run.",
    Phase.TAKE_OUT: "Mark each core before it leaves its terminal, and take a photograph.",
    Phase.CONNECT: "Strands in, insulation up to the terminal; pull at each core.",
    Phase.CHECK_DEAD: "Supply still locked off, all controls at rest.",
    Phase.TEST: "No part of the wiring is altered live: isolate, prove dead, alter.",
}
"""What belongs to every step of a phase; common practice."""


@dataclass(frozen=True)
class Wiring:
    """Taking out, fixing and connecting: what is settled by the two systems alone."""

    take_out: tuple[Step, ...]
    fix: tuple[Step, ...]
    connect: tuple[Step, ...]


def wiring(work: Work) -> Wiring:
    """Return the steps in which the wall is changed."""
    out, on = take_out_steps(work), connect_steps(work)
    fixed = fix_steps(work, out[-1].place if out else "", on[0].place if on else "")
    return Wiring(out, fixed, on)


def plan(work: Work, covered: Coverage, tried: Trials) -> tuple[PhaseSteps, ...]:
    """Return every phase with its steps; `covered` and `tried` are of the fitted system."""
    made = wiring(work)
    return tuple(PhaseSteps(phase, steps, ALWAYS.get(phase, "")) for phase, steps in (
        (Phase.SURVEY, survey_steps(work)),
        (Phase.DEAD, dead_steps(work)),
        (Phase.TAKE_OUT, (*made.take_out, *author_steps(work))),
        (Phase.FIX, made.fix),
        (Phase.CONNECT, made.connect),
        (Phase.CHECK_DEAD, check_steps(work, covered)),
        (Phase.ENERGISE, energise_steps(work)),
        (Phase.TEST, test_steps(work, tried)),
        (Phase.CLOSE, close_steps(work)),
    ))
