"""The shape of a system: parts and cables on one wall, and the changes it can be had with."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import Designation, Name, Shape, Text, key
from generator.recipe.named_changes import NamedChange
from generator.recipe.placed import LaidCable, Link, Notice, PlacedPart, Supply, Zone
from generator.recipe.signs import Answers


class System(Shape):
    """An arrangement of parts and cables on a wall."""

    kind: Literal["system"] = key("system: parts and cables on one wall.")
    name: Text = key("What it is, in a few words.")
    stands: Literal["found", "standard"] = key(
        "found: met on site, as it is. standard: the company's own, held to every rule.")
    about: Text = key("How it works, in plain words.")
    supplies: dict[Name, Supply] = key("Circuits that feed it.", min_length=1)
    zones: dict[Name, Zone] = key("What is heated, and on whose call.", {})
    parts: dict[Designation, PlacedPart] = key("Parts by designation.", min_length=1)
    cables: dict[Designation, LaidCable] = key("Cables by designation.", {})
    links: dict[Name, Link] = key("Links by name.", {})
    notices: tuple[Notice, ...] = key("Labels on the wall.", ())
    seen: dict[Name, Answers] = key(
        "What is seen of it on site: a question of signs/on-the-wall.yaml and its answer, or a "
        "list of those there may be. One left out can be any.", {})
    offers: dict[Name, NamedChange] = key(
        "Changes by name that a variant or a conversion can ask for.", {})
