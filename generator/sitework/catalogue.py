"""The rules about the work and its tests; asked only where the wiring itself has no error."""

from __future__ import annotations

from typing import Any

from generator.checks.catalogue import RULES
from generator.checks.rule import Rule
from generator.checks.subject import JobSubject, Subject
from generator.sitework.rules import fault_shows_in_no_test, no_safe_order

SITE_RULES: tuple[Rule[Subject], ...] = (fault_shows_in_no_test.RULE,)
SITE_JOB_RULES: tuple[Rule[JobSubject], ...] = (no_safe_order.RULE,)
EVERY_RULE: tuple[Rule[Any], ...] = (*RULES, *SITE_RULES, *SITE_JOB_RULES)
"""All rules that may be found broken, explained and shown."""
