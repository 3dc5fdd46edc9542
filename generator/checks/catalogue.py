"""Every rule, in the order in which a reader should meet what they found."""

from __future__ import annotations

from generator.checks.rule import Rule
from generator.checks.rules import (
    burner_fires_against_shut_valves,
    burner_fires_uncalled,
    call_does_nothing,
    colour_misleads,
    cut_out_leaves_valve_powered,
    cut_out_missing,
    cut_out_resets_itself,
    heat_source_without_cut_out,
    line_meets_neutral,
    valve_needs_power_to_shut,
    zone_opened_by_other_call,
)
from generator.checks.subject import JobSubject, Subject

SYSTEM_RULES: tuple[Rule[Subject], ...] = (
    line_meets_neutral.RULE,
    cut_out_leaves_valve_powered.RULE,
    cut_out_missing.RULE,
    cut_out_resets_itself.RULE,
    valve_needs_power_to_shut.RULE,
    heat_source_without_cut_out.RULE,
    zone_opened_by_other_call.RULE,
    burner_fires_against_shut_valves.RULE,
    burner_fires_uncalled.RULE,
    call_does_nothing.RULE,
    colour_misleads.RULE,
)
JOB_RULES: tuple[Rule[JobSubject], ...] = ()
RULES = (*SYSTEM_RULES, *JOB_RULES)
