"""What the pages of systems, parts and rules say, as plain values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from generator.checks.catalogue import JOB_RULES, SYSTEM_RULES
from generator.checks.rule import Rule, Verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.judging.judged import Verdicts
from generator.recipe.articles import Part
from generator.recipe.variants import Variant
from generator.recipe.wall import Source, Wall
from generator.sitework.catalogue import MET_RULES, SITE_JOB_RULES, SITE_RULES
from generator.sitework.numbers import Numbers, numbers


@dataclass(frozen=True)
class TerminalRow:
    """One terminal of a strip or part and the conductors that land on it."""

    terminal: str
    says: str
    conductors: tuple[Conductor, ...]


@dataclass(frozen=True)
class SystemView:
    """A system page."""

    name: str
    wall: Wall
    rows: tuple[tuple[str, tuple[TerminalRow, ...]], ...]
    numbers: Numbers
    settled: int
    states: int
    verdicts: Verdicts
    variant: Variant | None
    base: str


def system_view(
    subject: Subject, verdicts: Verdicts, variant: Variant | None = None, base: str = ""
) -> SystemView:
    """Return everything that a system page says; of a variant, what its `base` is called."""
    rows = tuple((name, tuple(_rows(subject, name))) for name in subject.wall.parts)
    return SystemView(
        subject.wall.name,
        subject.wall,
        tuple(r for r in rows if r[1]),
        numbers(subject),
        subject.settled.bit_count(),
        subject.potentials.space.size,
        verdicts,
        variant,
        base,
    )


def _rows(subject: Subject, part: str) -> Iterator[TerminalRow]:
    for name, terminal in subject.wall.parts[part].part.terminals.items():
        full = f"{part}:{name}"
        landed = tuple(
            c for c in subject.circuit.conductors if c.kind != "joint" and full in (c.a, c.b)
        )
        if landed or subject.wall.parts[part].part.letter == "X":
            yield TerminalRow(full, terminal.says, landed)


@dataclass(frozen=True)
class PartView:
    """A part page, with the systems it occurs in."""

    name: str
    part: Part
    systems: tuple[tuple[str, str], ...]


def part_view(source: Source, walls: tuple[Wall, ...]) -> PartView:
    """Return everything that a part page says."""
    assert isinstance(source.model, Part)
    used = tuple(
        (wall.name, wall.system.name)
        for wall in walls
        if any(p.placed.is_ == source.name for p in wall.parts.values())
    )
    return PartView(source.name, source.model, used)


@dataclass(frozen=True)
class RuleView:
    """A rule page's frame: what it rests on and where it was asked."""

    rule: Rule[Any]
    about: str
    asked: tuple[tuple[str, Verdict], ...]


def rule_views(judged: tuple[tuple[str, Verdicts], ...]) -> tuple[RuleView, ...]:
    """Return each rule with what came of it in every judged recipe, by the recipe's title."""
    kinds: list[tuple[Rule[Any], str]] = [(rule, "systems") for rule in SYSTEM_RULES]
    kinds += [(rule, "conversions") for rule in JOB_RULES]
    kinds += [(rule, "systems and conversions") for rule in SITE_RULES]
    kinds += [(rule, "all systems together") for rule in MET_RULES]
    kinds += [(rule, "conversions") for rule in SITE_JOB_RULES]
    return tuple(
        RuleView(
            rule,
            about,
            tuple(
                (title, verdict)
                for title, verdicts in judged
                for asked, verdict in verdicts
                if asked is rule
            ),
        )
        for rule, about in kinds
    )
