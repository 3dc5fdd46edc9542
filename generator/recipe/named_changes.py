"""The shape of a named change: what it takes out of a system, puts in, and lands elsewhere."""

from __future__ import annotations

from generator.recipe.forms import (
    Colour,
    CoreRef,
    Designation,
    MovedRef,
    Name,
    Shape,
    TerminalRef,
    Text,
    key,
)
from generator.recipe.placed import Core, LaidCable, Link, Notice, PlacedPart, Supply, Zone


class Contents(Shape):
    """Things of a system, by what they are."""

    supplies: dict[Name, Supply] = key("Circuits that feed it.", {})
    zones: dict[Name, Zone] = key("What is heated, and on whose call.", {})
    parts: dict[Designation, PlacedPart] = key("Parts by designation.", {})
    cables: dict[Designation, LaidCable] = key("Whole cables by designation.", {})
    cores: dict[CoreRef, Core] = key("Single cores of cables, for example: W4.GY.", {})
    links: dict[Name, Link] = key("Links by name.", {})


class Additions(Contents):
    """Things that a system gets besides."""

    notices: tuple[Notice, ...] = key("Labels on the wall.", ())


class Removal(Shape):
    """Names of things that a system loses."""

    supplies: tuple[Name, ...] = key("Circuits.", ())
    zones: tuple[Name, ...] = key("Zones.", ())
    parts: tuple[Designation, ...] = key("Parts.", ())
    cables: tuple[Designation, ...] = key("Whole cables.", ())
    cores: tuple[CoreRef, ...] = key("Single cores of cables, for example: W4.GY.", ())
    links: tuple[Name, ...] = key("Links.", ())
    notices: tuple[Designation, ...] = key("Parts all of whose labels go.", ())


class Relanded(Shape):
    """Ends of a core or link that land elsewhere, and what it does then; the rest stays."""

    from_: TerminalRef | None = key("The terminal at the first end.", None, alias="from")
    to: TerminalRef | None = key("The terminal at the other end.", None)
    does: Text | None = key("What it does now.", None)
    sleeve: Colour | None = key("Colour of the sleeve at both ends.", None)


class NamedChange(Shape):
    """One change of a system: what goes is taken out first, then the rest is put in."""

    why: Text = key("What it is for, in a sentence.")
    remove: Removal = key("What goes.", Removal())
    replace: Contents = key("What stands in for something of the same name.", Contents())
    add: Additions = key("What comes besides.", Additions())
    move: dict[MovedRef, Relanded] = key(
        "Cores and links that land elsewhere, for example: {W4.BK: {to: X1:10}}.", {})
