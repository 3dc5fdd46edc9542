"""The shapes of what stands on a wall: parts, cables with both ends of each core, links, zones."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import (
    Colour,
    Designation,
    Name,
    Number,
    OutcomeRef,
    Shape,
    SwitchRef,
    TerminalName,
    TerminalRef,
    Text,
    key,
)


class PlacedPart(Shape):
    """A part on this wall."""

    is_: Name = key("File name of the part, without .yaml.", alias="is")
    at: Text = key("Where it is, for example: airing cupboard.")
    called: str = key("What people call it here.", "")
    inside: Designation | None = key("The part in whose enclosure it sits.", None)
    fuse: Number | None = key("Fuse fitted, in A.", None, gt=0, le=63)
    capped: tuple[TerminalName, ...] = key(
        "Terminals that may be live and on which nothing lands: insulated, and seen to be.", ())


class Core(Shape):
    """One core of a cable: where it begins, where it ends, what it does."""

    from_: TerminalRef | None = key("Terminal at one end, for example: X1:7.", None, alias="from")
    to: TerminalRef | None = key("Terminal at the other end.", None)
    does: str = key("What it does, for example: switched live, hot water.", "")
    sleeve: Colour | None = key("Colour of the sleeve at both ends.", None)
    made_safe: str | None = key("For a core that goes nowhere: how both ends are made safe.", None,
                                alias="made-safe")


class LaidCable(Shape):
    """A cable on this wall."""

    is_: Name = key("File name of the cable, without .yaml.", alias="is")
    length: Number = key("Length in m.", gt=0, le=100)
    cores: dict[Colour, Core] = key("Each core by its colour.", min_length=1)


class Link(Shape):
    """A short joint between two terminals."""

    from_: TerminalRef = key("Terminal at one end.", alias="from")
    to: TerminalRef = key("Terminal at the other end.")
    does: Text = key("What it is there for.")
    colour: Colour = key("Colour of the link.", Colour.BROWN)


class Supply(Shape):
    """Where power comes from: line, neutral and earth of one circuit."""

    says: Text = key("Which circuit it is.")
    line: TerminalRef = key("Terminal where its line arrives.")
    neutral: TerminalRef = key("Terminal where its neutral arrives.")
    earth: TerminalRef = key("Terminal where its protective conductor arrives.")
    isolated_by: dict[SwitchRef, Text] = key(
        "What makes everything behind it dead, for example: {Q1.switch: off}.",
        alias="isolated-by", min_length=1)


class Zone(Shape):
    """What is heated on its own call."""

    valve: OutcomeRef | None = key(
        "The valve that opens for it, for example M1; or one way of it: M1.heating-way. Left out "
        "where none does.", None)
    served_by: tuple[OutcomeRef, ...] = key(
        "Burners, pumps and other loads that run on its call, for example [E1.burner, G1.motor]; "
        "needed where it has no valve.", (), alias="served-by")
    called_by: dict[SwitchRef, Text] = key("The settings that together call for it.",
                                           alias="called-by", min_length=1)
    cut_out: Designation | None = key("The overheat cut-out of the water it stores.", None,
                                      alias="cut-out")
    stores: Literal["nothing", "vented cylinder", "unvented cylinder"] = key(
        "What it heats a store of.", "nothing")


class Notice(Shape):
    """A label on the wall."""

    at: Designation = key("The part it is fixed to, or is about.")
    where: str = key("Where it is fixed, if not at the part: for example, consumer unit.", "")
    text: Text = key("What it says.")
