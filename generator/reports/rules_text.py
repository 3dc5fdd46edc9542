"""The rules as `handbook explain` prints them: all with their faults, or one with its page."""

from __future__ import annotations

from collections.abc import Iterator

from generator.sitework.catalogue import EVERY_RULE


def rules_text() -> Iterator[str]:
    """Yield a line for each rule."""
    yield from (f"{rule.name}: {rule.fault}" for rule in EVERY_RULE)


def rule_text(name: str) -> Iterator[str]:
    """Yield the page of a rule and what it rests on; nothing where there is no such rule."""
    for rule in EVERY_RULE:
        if rule.name == name:
            yield rule.page.read_text(encoding="utf-8").rstrip()
            yield "\nBasis:"
            yield from (f"- {basis.known}: {basis.text}" for basis in rule.basis)
