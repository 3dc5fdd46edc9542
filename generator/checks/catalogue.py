"""Every rule, in the order in which a reader should meet what they found."""

from __future__ import annotations

from typing import Any

from generator.checks.rule import Rule
from generator.checks.rules import (
    behaviour_unlike_expected,
    burner_fires_against_shut_valves,
    burner_fires_uncalled,
    cable_softens,
    cable_still_on_old_circuit,
    call_does_nothing,
    circuit_remembers,
    colour_misleads,
    core_left_loose,
    core_without_fate,
    cut_out_leaves_valve_powered,
    cut_out_missing,
    cut_out_resets_itself,
    earth_core_carries_line,
    earth_missing,
    ends_by_chance,
    extra_low_voltage_meets_mains,
    heat_source_without_cut_out,
    inside_not_known,
    line_meets_neutral,
    live_through_load,
    load_never_runs,
    load_without_neutral,
    loads_in_series,
    neutral_borrowed,
    neutral_meets_earth,
    neutral_switched,
    never_settles,
    output_fed_backwards,
    part_without_conductor,
    rating_exceeded,
    safety_case_missing,
    second_supply_unannounced,
    stays_live_isolated,
    supply_left_unsaid,
    terminal_overfilled,
    terminal_takes_other,
    valve_needs_power_to_shut,
    valve_without_zone,
    zone_opened_by_other_call,
)
from generator.checks.subject import JobSubject, Subject

SYSTEM_RULES: tuple[Rule[Subject], ...] = (
    line_meets_neutral.RULE,
    inside_not_known.RULE,
    terminal_takes_other.RULE,
    neutral_meets_earth.RULE,
    stays_live_isolated.RULE,
    extra_low_voltage_meets_mains.RULE,
    earth_core_carries_line.RULE,
    earth_missing.RULE,
    live_through_load.RULE,
    load_without_neutral.RULE,
    loads_in_series.RULE,
    neutral_switched.RULE,
    neutral_borrowed.RULE,
    cut_out_leaves_valve_powered.RULE,
    cut_out_missing.RULE,
    cut_out_resets_itself.RULE,
    valve_needs_power_to_shut.RULE,
    heat_source_without_cut_out.RULE,
    valve_without_zone.RULE,
    zone_opened_by_other_call.RULE,
    burner_fires_against_shut_valves.RULE,
    burner_fires_uncalled.RULE,
    call_does_nothing.RULE,
    never_settles.RULE,
    ends_by_chance.RULE,
    circuit_remembers.RULE,
    load_never_runs.RULE,
    second_supply_unannounced.RULE,
    output_fed_backwards.RULE,
    rating_exceeded.RULE,
    colour_misleads.RULE,
    core_left_loose.RULE,
    part_without_conductor.RULE,
    terminal_overfilled.RULE,
    cable_softens.RULE,
)
JOB_RULES: tuple[Rule[JobSubject], ...] = (
    cable_still_on_old_circuit.RULE,
    core_without_fate.RULE,
    behaviour_unlike_expected.RULE,
    safety_case_missing.RULE,
    supply_left_unsaid.RULE,
)
FOUND_RULES: tuple[Rule[Subject], ...] = (
    line_meets_neutral.RULE,
    load_never_runs.RULE,
    core_left_loose.RULE,
)
"""What is asked of a system as it was found: there they say that it was written down wrongly."""
ON_PAPER: tuple[Rule[JobSubject], ...] = (core_without_fate.RULE,)
"""What can be asked of a conversion while the system that it fits still has errors."""
RULES: tuple[Rule[Any], ...] = (*SYSTEM_RULES, *JOB_RULES)
