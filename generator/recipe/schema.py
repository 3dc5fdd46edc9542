"""The shapes of a recipe file: parts, cables, systems and conversions, each key described."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue

Colour = Literal[
    "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"
]
"""Letter codes of IEC 60757."""

Text = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9.-]*$", max_length=60)]
Designation = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}[0-9]{1,3}$")]
TerminalRef = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}[0-9]{1,3}:[A-Za-z0-9-]+$")]
SwitchRef = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}[0-9]{1,3}\.[a-z0-9-]+$")]
Setting = dict[Name, Text]


class Shape(BaseModel):
    """A mapping whose keys are all known."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


def _key(description: str, default: Any = ..., **words: Any) -> Any:
    return Field(default, description=description, **words)


class Carries(StrEnum):
    """What a terminal is there for."""

    LINE = "line"
    NEUTRAL = "neutral"
    EARTH = "earth"
    ANYTHING = "anything"
    EXTRA_LOW_VOLTAGE = "extra-low voltage"


class Terminal(Shape):
    """A place where a conductor lands."""

    carries: Carries = _key("What lands here: line (switched or not), neutral, earth, anything, "
                            "or extra-low voltage.", Carries.ANYTHING)
    says: str = _key("What the terminal is for, in the words of the trade.", "")
    takes: int = _key("How many conductors the terminal holds.", 2, ge=1, le=12)
    tail: Colour | None = _key("Colour of the core that comes fitted to this terminal, "
                               "for a part with its own flex.", None)
    row: str = _key("Terminals in one row are neighbours in the order written; "
                    "a barrier stands between rows.", "")


class SwitchKind(StrEnum):
    """Who or what sets a switch."""

    CALL = "call"
    TEMPERATURE = "temperature"
    CUT_OUT = "cut-out"
    ISOLATOR = "isolator"
    FUSE = "fuse"


class Switch(Shape):
    """Something a person, a clock or a temperature sets."""

    kind: SwitchKind = _key("call, temperature, cut-out, isolator or fuse.")
    rest: Text = _key("The word for it untouched and cold, for example: off.")
    worked: Text = _key("The word for it worked, for example: on.")
    says: str = _key("What it is, in the words of the trade.", "")
    resets: Literal["by hand", "by itself"] | None = _key(
        "For a cut-out: whether a person must reset it.", None)


class Position(Shape):
    """Something the circuit itself sets a moment later, such as a valve that has opened."""

    rest: Text = _key("The word for it without power, for example: shut.")
    worked: Text = _key("The word for it moved, for example: open.")
    moves_while: Name = _key("The load that moves it while it runs.", alias="moves-while")
    opens_in: Text = _key("How long it takes to move, for example: 10 to 20 s.", alias="opens-in")
    shuts_in: Text = _key("How long it takes to go back.", alias="shuts-in")


class Rating(Shape):
    """What a contact carries; the inductive figure counts for motors and pumps."""

    amps: float = _key("Resistive current in A.", gt=0, le=100)
    inductive: float | None = _key("Inductive current in A, the bracketed figure.", None, gt=0)


class Contact(Shape):
    """Joins two terminals while its condition holds."""

    between: tuple[Text, Text] = _key(
        "The two terminals: where the current comes in, where it goes out.")
    closed_while: Setting = _key("Switch or position and the word it must have, for example: "
                                 "{water: cold}.", alias="closed-while")
    rating: Rating | None = _key("What the contact carries; left out where it is not known.", None)


class LoadKind(StrEnum):
    """What a load is."""

    MOTOR = "motor"
    CALL_INPUT = "call input"
    ELECTRONICS = "electronics"
    PUMP = "pump"
    ELEMENT = "element"


class Load(Shape):
    """A consumer between two terminals."""

    kind: LoadKind = _key("motor, call input, electronics, pump or element.")
    between: tuple[Text, Text] = _key("The two terminals: line side, neutral side.")
    watts: float = _key("Power in W at 230 V.", gt=0, le=15000)
    says: str = _key("What it is, in the words of the trade.", "")


class Heat(Shape):
    """A heat source inside the part."""

    fires_while: tuple[Name, ...] = _key("The loads that must all run for it to give heat.",
                                         alias="fires-while")
    heats: Literal["water in circulation", "stored water"] = _key("What it heats.")
    word: Text = _key("What people call it, for example: burner.", "burner")
    also_asks: tuple[Text, ...] = _key(
        "Terminals through which a maker's closed control may hold it off; while something "
        "lands there, whether it fires is not known.", (), alias="also-asks")


class Part(Shape):
    """What a part is: terminals, contacts, loads, behaviour, ratings."""

    kind: Literal["part"] = _key("part: one article that is screwed to the wall.")
    name: Text = _key("What it is, in a few words; no maker and no product name.")
    letter: Literal["B", "C", "E", "F", "G", "K", "M", "N", "P", "Q", "R", "S", "T", "U", "X"] = _key(
        "Letter of IEC 81346-2 that its designations begin with.")
    about: Text = _key("What it does, in plain words.")
    looks: str = _key("How to know it on the wall.", "")
    protection: Literal["class I", "class II", "class III", "none"] = _key(
        "Protection against electric shock: class I needs an earth; none for a bare strip.")
    terminals: dict[str, Terminal] = _key("Terminals in the order in which they stand.", min_length=1)
    switches: dict[Name, Switch] = _key("What is set from outside.", {})
    positions: dict[Name, Position] = _key("What the circuit moves.", {})
    contacts: dict[Name, Contact] = _key("Contacts inside.", {})
    loads: dict[Name, Load] = _key("Loads inside.", {})
    joints: dict[Name, tuple[Text, Text]] = _key("Terminals joined for good inside.", {})
    closed: tuple[Text, ...] = _key(
        "Terminals behind which a maker's circuit sits that nobody knows.", ())
    heat: Heat | None = _key("The heat source inside, if it is one.", None)
    driven: bool = _key("true for what the circuit drives (drawn on the right).", False)
    competence: Literal["electrical", "gas", "unvented"] = _key(
        "Who may open it.", "electrical")
    joining: tuple[Text, ...] = _key("Steps that join its radio or set it up, in order.", ())
    signs: tuple[Text, ...] = _key("What is seen, heard and felt when it works.", ())
    source: str = _key("Where ratings and times come from: a published source, common practice, "
                       "or from memory.", "")


class Cable(Shape):
    """A kind of cable: its cores, cross-section and heat resistance."""

    kind: Literal["cable"] = _key("cable: something with cores that is bought by the metre.")
    name: Text = _key("What it is called in the trade.")
    cores: tuple[Colour, ...] = _key("Core colours, IEC 60757 letters.", min_length=1, max_length=12)
    area: float = _key("Cross-section of each core in mm².", gt=0, le=25)
    amps: float = _key("What a core carries in A.", gt=0, le=100)
    heat_resisting: bool = _key("true where it may touch hot pipes and the cylinder.", False,
                                alias="heat-resisting")
    signal: bool = _key("true for a data or sensor lead that is not made for mains.", False)
    source: str = _key("Where the current comes from.", "")


class PlacedPart(Shape):
    """A part on this wall."""

    is_: Name = _key("File name of the part, without .yaml.", alias="is")
    at: Text = _key("Where it is, for example: airing cupboard.")
    called: str = _key("What people call it here.", "")
    inside: Designation | None = _key("The part in whose enclosure it sits.", None)
    fuse: float | None = _key("Fuse fitted, in A.", None, gt=0, le=63)


class Core(Shape):
    """One core of a cable: where it begins, where it ends, what it does."""

    from_: TerminalRef | None = _key("Terminal at one end, for example: X1:7.", None, alias="from")
    to: TerminalRef | None = _key("Terminal at the other end.", None)
    does: str = _key("What it does, for example: switched live, hot water.", "")
    sleeve: Colour | None = _key("Colour of the sleeve at both ends.", None)
    made_safe: str | None = _key("For a core that goes nowhere: how both ends are made safe.", None,
                                 alias="made-safe")


class LaidCable(Shape):
    """A cable on this wall."""

    is_: Name = _key("File name of the cable, without .yaml.", alias="is")
    length: float = _key("Length in m.", gt=0, le=100)
    cores: dict[Colour, Core] = _key("Each core by its colour.", min_length=1)


class Link(Shape):
    """A short joint between two terminals."""

    from_: TerminalRef = _key("Terminal at one end.", alias="from")
    to: TerminalRef = _key("Terminal at the other end.")
    does: Text = _key("What it is there for.")
    colour: Colour = _key("Colour of the link.", "BN")


class Supply(Shape):
    """Where power comes from: line, neutral and earth of one circuit."""

    says: Text = _key("Which circuit it is.")
    line: TerminalRef = _key("Terminal where its line arrives.")
    neutral: TerminalRef = _key("Terminal where its neutral arrives.")
    earth: TerminalRef = _key("Terminal where its protective conductor arrives.")
    isolated_by: dict[SwitchRef, Text] = _key(
        "What makes everything behind it dead, for example: {Q1.switch: off}.",
        alias="isolated-by", min_length=1)


class Zone(Shape):
    """What is heated on its own call."""

    valve: Designation = _key("The valve that opens for it.")
    called_by: dict[SwitchRef, Text] = _key("The settings that together call for it.",
                                            alias="called-by", min_length=1)
    cut_out: Designation | None = _key("The overheat cut-out of the water it stores.", None,
                                       alias="cut-out")
    stores: Literal["nothing", "vented cylinder", "unvented cylinder"] = _key(
        "What it heats a store of.", "nothing")


class Notice(Shape):
    """A label on the wall."""

    at: Designation = _key("The part it is fixed to.")
    text: Text = _key("What it says.")


class System(Shape):
    """An arrangement of parts and cables on a wall."""

    kind: Literal["system"] = _key("system: parts and cables on one wall.")
    name: Text = _key("What it is, in a few words.")
    stands: Literal["found", "standard"] = _key(
        "found: met on site, as it is. standard: the company's own, held to every rule.")
    about: Text = _key("How it works, in plain words.")
    supplies: dict[Name, Supply] = _key("Circuits that feed it.", min_length=1)
    zones: dict[Name, Zone] = _key("What is heated, and on whose call.", {})
    parts: dict[Designation, PlacedPart] = _key("Parts by designation.", min_length=1)
    cables: dict[Designation, LaidCable] = _key("Cables by designation.", {})
    links: dict[Name, Link] = _key("Links by name.", {})
    notices: tuple[Notice, ...] = _key("Labels on the wall.", ())


class Going(Shape):
    """What becomes of something that is found and not kept."""

    fate: Literal["removed", "made safe"] = _key("removed at both ends, or made safe and labelled.")
    how: Text = _key("How, in a sentence.")


class Expected(Shape):
    """What the author says must happen; the model must agree in every state it covers."""

    name: Text = _key("The case in a few words.")
    when: dict[SwitchRef, Text] = _key("Switch settings; supplies are on where none is named.")
    then: dict[Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}[0-9]{1,3}(\.[a-z0-9-]+)?$")],
               Text] = _key("Position, load or heat source and what it does.", min_length=1)
    safety: bool = _key("true for a test that is made on every job.", False)


class Doubt(Shape):
    """Something found before quoting that rules the page out."""

    found: Text = _key("What is found.")
    then: Text = _key("What to do then.")


class Fits(Shape):
    """When the page applies."""

    needs: tuple[Text, ...] = _key("What must be found on site.", min_length=1)
    not_with: tuple[Doubt, ...] = _key("What rules it out, and what to do then.", alias="not-with",
                                       min_length=1)
    look: tuple[Text, ...] = _key("What to look at and measure before quoting.", min_length=1)


class Owner(Shape):
    """The owner's page, in plain words."""

    changed: Text = _key("What was changed.")
    use: tuple[Text, ...] = _key("How to use it.", min_length=1)
    no_heat: tuple[Text, ...] = _key("What to do when there is no heat.", alias="no-heat", min_length=1)
    call: Text = _key("Whom to call.")


class Revision(Shape):
    """Number and people."""

    number: int = _key("Counts up with every published change.", ge=1)
    date: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")] = _key("Date, YYYY-MM-DD.")
    written_by: Text = _key("Who wrote it.", alias="written-by")
    reviewed_by: str = _key("Who reviewed it.", "", alias="reviewed-by")
    approved_by: str = _key("Who approved it.", "", alias="approved-by")
    changed: Text = _key("What changed in behaviour since the last one.")


class Conversion(Shape):
    """From a found system to a standard one."""

    kind: Literal["conversion"] = _key("conversion: from a found system to a standard one.")
    name: Text = _key("What is converted to what, in a few words.")
    about: Text = _key("What the job is and why.")
    found: Name = _key("File name of the found system, without .yaml.")
    fitted: Name = _key("File name of the standard system, without .yaml.")
    fits: Fits = _key("Does it fit?")
    take_with: tuple[Text, ...] = _key("What to take besides what is worked out.", (),
                                       alias="take-with")
    goes: dict[str, Going] = _key("Parts, cables and links that are found and not kept.", {})
    cost: tuple[Text, ...] = _key("What the change costs the owner, said plainly.", ())
    expect: tuple[Expected, ...] = _key("What must be true afterwards.", min_length=1)
    settings: tuple[Text, ...] = _key("Settings to leave.", ())
    owner: Owner = _key("The owner's page.")
    revision: Revision = _key("Number and people.")


Model = Part | Cable | System | Conversion
RECIPE: TypeAdapter[Model] = TypeAdapter(Annotated[Model, Field(discriminator="kind")])
KINDS = ("part", "cable", "system", "conversion")


class _Draft07(GenerateJsonSchema):
    schema_dialect = "http://json-schema.org/draft-07/schema#"


def json_schema() -> JsonSchemaValue:
    """Return the JSON Schema, draft 07, of a recipe file."""
    schema = RECIPE.json_schema(schema_generator=_Draft07, ref_template="#/definitions/{model}")
    schema["definitions"] = schema.pop("$defs")
    return {"$schema": _Draft07.schema_dialect, "title": "Recipe", **_draft07(schema)}


def _draft07(value: Any) -> Any:
    """Return the schema with the two things said as draft 07 says them: tuples, and $ref alone."""
    if isinstance(value, list):
        return [_draft07(each) for each in value]
    if not isinstance(value, dict):
        return value
    out = {key: _draft07(each) for key, each in value.items() if key != "discriminator"}
    if "prefixItems" in out:
        out["items"] = out.pop("prefixItems")
    if "$ref" in out and len(out) > 1:
        out["allOf"] = [{"$ref": out.pop("$ref")}]
    return out
