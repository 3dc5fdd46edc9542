"""Every rule, in the order in which a reader should meet what they found."""

from __future__ import annotations

from generator.checks.rule import Rule
from generator.checks.rules import (
    colour_misleads,
    cut_out_leaves_valve_powered,
    line_meets_neutral,
)
from generator.checks.subject import JobSubject, Subject

SYSTEM_RULES: tuple[Rule[Subject], ...] = (
    line_meets_neutral.RULE,
    cut_out_leaves_valve_powered.RULE,
    colour_misleads.RULE,
)
JOB_RULES: tuple[Rule[JobSubject], ...] = ()
RULES = (*SYSTEM_RULES, *JOB_RULES)
