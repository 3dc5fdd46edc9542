"""What the rules say of all systems together that may be met."""

from __future__ import annotations

from generator.judging.judged import Verdicts
from generator.recipe.met import AllMet
from generator.sitework.catalogue import MET_RULES


def met_verdicts(met: AllMet) -> Verdicts:
    """Return what every rule says that asks whether one system is taken for another."""
    return tuple((rule, rule.judge(met)) for rule in MET_RULES)
