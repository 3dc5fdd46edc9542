"""The shape of a conversion: from a found system to a standard one, and what must be true then."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import Date, Name, OutcomeRef, Shape, SwitchRef, Text, Truth, Whole, key


class Going(Shape):
    """What becomes of something that is found and not kept."""

    fate: Literal["removed", "made safe"] = key(
        "removed at both ends, or made safe and labelled.")
    how: Text = key("How, in a sentence.")


class Cost(Shape):
    """Something the owner loses or has to put up with."""

    loses: tuple[OutcomeRef, ...] = key(
        "Loads of the found system that never run again, for example: E2.element.", ())
    says: Text = key("What that means, said plainly to the owner.")


class Expected(Shape):
    """What the author says must happen; the model must agree in every state it covers."""

    name: Text = key("The case in a few words.")
    when: dict[SwitchRef, Text] = key("Switch settings; supplies are on where none is named.")
    then: dict[OutcomeRef, Text] = key(
        "Position, load or heat source and what it does.", min_length=1)
    safety: Truth = key("true for a test that is made on every job.", False)
    tried: Truth = key("false for a case that is proved and that nobody tries on site.", True)


class Doubt(Shape):
    """Something found before quoting that rules the page out."""

    found: Text = key("What is found.")
    then: Text = key("What to do then.")


class Fits(Shape):
    """When the page applies."""

    needs: tuple[Text, ...] = key("What must be found on site.", min_length=1)
    not_with: tuple[Doubt, ...] = key("What rules it out, and what to do then.", alias="not-with",
                                      min_length=1)
    look: tuple[Text, ...] = key("What to look at and measure before quoting.", min_length=1)


class Owner(Shape):
    """The owner's page, in plain words."""

    changed: Text = key("What was changed.")
    use: tuple[Text, ...] = key("How to use it.", min_length=1)
    no_heat: tuple[Text, ...] = key(
        "What to do when there is no heat.", alias="no-heat", min_length=1)
    call: Text = key("Whom to call.")


class Revision(Shape):
    """Number and people."""

    number: Whole = key("Counts up with every published change.", ge=1)
    date: Date = key("Date, YYYY-MM-DD.")
    written_by: Text = key("Who wrote it.", alias="written-by")
    reviewed_by: str = key("Who reviewed it.", "", alias="reviewed-by")
    approved_by: str = key("Who approved it.", "", alias="approved-by")
    changed: Text = key("What changed in behaviour since the last one.")


class Conversion(Shape):
    """From a found system to a standard one."""

    kind: Literal["conversion"] = key("conversion: from a found system to a standard one.")
    name: Text = key("What is converted to what, in a few words.")
    about: Text = key("What the job is and why.")
    found: Name = key("File name of the found system, without .yaml.")
    fitted: Name = key("File name of the standard system, without .yaml.")
    fits: Fits = key("Does it fit?")
    take_with: tuple[Text, ...] = key("What to take besides what is worked out.", (),
                                      alias="take-with")
    goes: dict[str, Going] = key("Parts, cables and links that are found and not kept.", {})
    take_out: tuple[Text, ...] = key(
        "Steps of taking out that no part or cable says, in order.", (), alias="take-out")
    cost: tuple[Cost, ...] = key("What the change costs the owner.", ())
    expect: tuple[Expected, ...] = key("What must be true afterwards.", min_length=1)
    first_on: tuple[Text, ...] = key(
        "What must be seen to before the supply is switched on for the first time.", (),
        alias="first-on")
    settings: tuple[Text, ...] = key("Settings to leave.", ())
    record: tuple[Text, ...] = key("Lines of the record besides the usual ones.", ())
    owner: Owner = key("The owner's page.")
    revision: Revision = key("Which revision this is, and who stands for it.")
