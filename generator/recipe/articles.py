"""The shapes of what is bought: a part with its terminals, contacts and loads, and a cable."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from generator.recipe.forms import (
    Colour,
    Name,
    Number,
    Setting,
    Shape,
    TerminalName,
    Text,
    Truth,
    Whole,
    key,
)

Letter = Literal["B", "C", "E", "F", "G", "K", "M", "N", "P", "Q", "R", "S", "T", "U", "X"]
"""First letters of designations, IEC 81346-2."""


class Carries(StrEnum):
    """What a terminal is there for."""

    LINE = "line"
    NEUTRAL = "neutral"
    EARTH = "earth"
    ANYTHING = "anything"
    EXTRA_LOW_VOLTAGE = "extra-low voltage"


class Terminal(Shape):
    """A place where a conductor lands."""

    carries: Carries = key("What lands here: line (switched or not), neutral, earth, anything, "
                           "or extra-low voltage.", Carries.ANYTHING)
    says: str = key("What the terminal is for, in the words of the trade.", "")
    takes: Whole = key("How many conductors the terminal holds.", 2, ge=1, le=12)
    tail: Colour | None = key("Colour of the core that comes fitted to this terminal, "
                              "for a part with its own flex.", None)
    row: str = key("Terminals in one row are neighbours in the order written; "
                   "a barrier stands between rows. inside: where no probe gets at.", "")
    tightens_to: Number | None = key("Torque of its screw in Nm, where the maker states one.", None,
                                     alias="tightens-to", gt=0, le=20)
    strips: Number | None = key("How much insulation comes off, in mm, where the maker states it.",
                                None, gt=0, le=50)


class SwitchKind(StrEnum):
    """Who or what sets a switch."""

    CALL = "call"
    TEMPERATURE = "temperature"
    CUT_OUT = "cut-out"
    ISOLATOR = "isolator"
    FUSE = "fuse"


class Switch(Shape):
    """Something a person, a clock or a temperature sets."""

    kind: SwitchKind = key("call, temperature, cut-out, isolator or fuse.")
    rest: Text = key("The word for it untouched and cold, for example: off.")
    worked: Text = key("The word for it worked, for example: on.")
    says: str = key("What it is, in the words of the trade.", "")
    how: str = key("How a person brings the worked word about on site, for a test.", "")
    how_back: str = key("How a person brings it back to rest.", "", alias="how-back")
    resets: Literal["by hand", "by itself"] | None = key(
        "For a cut-out: whether a person must reset it.", None)


class Position(Shape):
    """Something the circuit itself sets a moment later, such as a valve that has opened."""

    rest: Text = key("The word for it without power, for example: shut.")
    worked: Text = key("The word for it moved, for example: open.")
    moves_while: Text = key(
        "The load that moves it while it runs; or loads, positions and switches of the part with "
        "and, or, not and brackets, for example: white or (grey and left-hot-water).",
        alias="moves-while")
    opens_in: Text = key("How long it takes to move, for example: 10 to 20 s.", alias="opens-in")
    shuts_in: Text = key("How long it takes to go back.", alias="shuts-in")


class Rating(Shape):
    """What a contact carries; the inductive figure counts for motors and pumps."""

    amps: Number = key("Resistive current in A.", gt=0, le=100)
    inductive: Number | None = key("Inductive current in A, the bracketed figure.", None, gt=0)


class Contact(Shape):
    """Joins two terminals while its condition holds."""

    between: tuple[Text, Text] = key(
        "The two terminals: where the current comes in, where it goes out.")
    closed_while: Setting = key("Switch or position and the word it must have, for example: "
                                "{water: cold}.", alias="closed-while")
    rating: Rating | None = key("What the contact carries; left out where it is not known.", None)


class LoadKind(StrEnum):
    """What a load is."""

    MOTOR = "motor"
    CALL_INPUT = "call input"
    VOLT_FREE_INPUT = "volt-free input"
    ELECTRONICS = "electronics"
    PUMP = "pump"
    ELEMENT = "element"


class Load(Shape):
    """A consumer between two terminals."""

    kind: LoadKind = key("motor, call input, volt-free input, electronics, pump or element. A "
                         "volt-free input calls while its two terminals are joined outside.")
    between: tuple[Text, Text] = key("The two terminals: line side, neutral side.")
    watts: Number = key("Power in W at 230 V; the least where it is only known as a range.",
                        gt=0, le=15000)
    up_to: Number | None = key("The most in W, where power is only known as a range.", None,
                               alias="up-to", gt=0, le=15000)
    says: str = key("What it is, in the words of the trade.", "")


class Heat(Shape):
    """A heat source inside the part."""

    fires_while: tuple[Name, ...] = key("The loads that must all run for it to give heat.",
                                        alias="fires-while")
    heats: Literal["water in circulation", "stored water"] = key("What it heats.")
    word: Text = key("What people call it, for example: burner.", "burner")
    also_asks: tuple[Text, ...] = key(
        "Terminals through which a maker's closed control may hold it off; while something "
        "lands there, whether it fires is not known.", (), alias="also-asks")


class Part(Shape):
    """What a part is: terminals, contacts, loads, behaviour, ratings."""

    kind: Literal["part"] = key("part: one article that is screwed to the wall.")
    name: Text = key("What it is, in a few words; no maker and no product name.")
    letter: Letter = key("Letter of IEC 81346-2 that its designations begin with.")
    about: Text = key("What it does, in plain words.")
    looks: str = key("How to know it on the wall.", "")
    protection: Literal["class I", "class II", "class III", "none"] = key(
        "Protection against electric shock: class I needs an earth; none for a bare strip.")
    terminals: dict[TerminalName, Terminal] = key(
        "Terminals in the order in which they stand.", min_length=1)
    switches: dict[Name, Switch] = key("What is set from outside.", {})
    positions: dict[Name, Position] = key("What the circuit moves.", {})
    contacts: dict[Name, Contact] = key("Contacts inside.", {})
    loads: dict[Name, Load] = key("Loads inside.", {})
    joints: dict[Name, tuple[Text, Text]] = key("Terminals joined for good inside.", {})
    closed: tuple[Text, ...] = key(
        "Terminals behind which a maker's circuit sits that nobody knows.", ())
    heat: Heat | None = key("The heat source inside, if it is one.", None)
    driven: Truth = key("true for what the circuit drives (drawn on the right).", False)
    competence: Literal["electrical", "gas", "oil", "unvented"] = key(
        "Who may open it.", "electrical")
    tool: str = key("A tool that is needed to open it or to work its terminals, if a special one.",
                    "")
    locks: str = key("For what isolates a supply: how it is locked off.", "")
    inspect: tuple[Text, ...] = key(
        "What is looked at and tried dead, with its cover off, before the supply comes back.", ())
    joining: tuple[Text, ...] = key("Steps that join its radio or set it up, in order.", ())
    signs: tuple[Text, ...] = key("What is seen, heard and felt when it works.", ())
    source: str = key("Where ratings and times come from: a published source, common practice, "
                      "or from memory.", "")


class Cable(Shape):
    """A kind of cable: its cores, cross-section and heat resistance."""

    kind: Literal["cable"] = key("cable: something with cores that is bought by the metre.")
    name: Text = key("What it is called in the trade.")
    cores: tuple[Colour, ...] = key(
        "Core colours, IEC 60757 letters.", min_length=1, max_length=12)
    area: Number = key("Cross-section of each core in mm².", gt=0, le=25)
    amps: Number = key("What a core carries in A.", gt=0, le=100)
    heat_resisting: Truth = key("true where it may touch hot pipes and the cylinder.", False,
                               alias="heat-resisting")
    signal: Truth = key("true for a data or sensor lead that is not made for mains.", False)
    source: str = key("Where the current comes from.", "")
