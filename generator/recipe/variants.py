"""The shape of a variant: a system that is another one with named changes."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import Name, Shape, Text, key
from generator.recipe.named_changes import NamedChange
from generator.recipe.signs import Answers


class Variant(Shape):
    """A system written as what is different from another."""

    kind: Literal["variant"] = key("variant: a system that is another one with named changes.")
    name: Text = key("What it is, in a few words.")
    stands: Literal["found", "standard"] = key(
        "found: met on site, as it is. standard: the company's own, held to every rule.")
    about: Text = key("How it works, in plain words.")
    extends: Name = key("File name of the system or variant that it begins from, without .yaml.")
    takes: tuple[Name, ...] = key("Changes, of those that one offers, that are made first.", ())
    changes: dict[Name, NamedChange] = key("Its own changes, made in this order.", {})
    seen: dict[Name, Answers] = key(
        "What is seen of it on site where that differs: question and answer, or a list of them.",
        {})
    offers: dict[Name, NamedChange] = key(
        "Changes by name that a variant or a conversion can ask for.", {})
