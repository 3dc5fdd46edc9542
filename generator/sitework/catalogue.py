"""The rules about the work and its tests, and those about all systems that may be met."""

from __future__ import annotations

from typing import Any

from generator.checks.catalogue import RULES
from generator.checks.rule import Rule
from generator.checks.subject import JobSubject, Subject
from generator.recipe.met import AllMet
from generator.sitework.rules import (
    fault_shows_in_no_test,
    found_system_shows_nothing,
    found_systems_look_alike,
    no_safe_order,
)

SITE_RULES: tuple[Rule[Subject], ...] = (fault_shows_in_no_test.RULE,)
SITE_JOB_RULES: tuple[Rule[JobSubject], ...] = (no_safe_order.RULE,)
MET_RULES: tuple[Rule[AllMet], ...] = (
    found_system_shows_nothing.RULE,
    found_systems_look_alike.RULE,
)
"""What is asked of all systems together that may be met."""
EVERY_RULE: tuple[Rule[Any], ...] = (*RULES, *SITE_RULES, *SITE_JOB_RULES, *MET_RULES)
"""All rules that may be found broken, explained and shown."""
