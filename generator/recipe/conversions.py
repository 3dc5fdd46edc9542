"""The shape of a conversion: from a found system to a standard one, and what must be true then."""

from __future__ import annotations

from typing import Literal

from generator.recipe.choices import Choice, NotOffered, Together
from generator.recipe.forms import Date, Name, Shape, Text, Whole, key
from generator.recipe.words import Cost, Doubt, Expected, Going, SetUp


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
    set_up: tuple[SetUp, ...] = key(
        "Joining and setting up, in an order that leaves the heating usable if it is broken off.",
        (), alias="set-up")
    settings: tuple[Text, ...] = key("Settings to leave.", ())
    record: tuple[Text, ...] = key("Lines of the record besides the usual ones.", ())
    owner: Owner = key("The owner's page.")
    choices: dict[Name, Choice] = key("What is met or wanted in more than one way.", {})
    together: tuple[Together, ...] = key(
        "What is said besides where options of several choices meet, after their own words.", ())
    not_offered: tuple[NotOffered, ...] = key("Options that are not had together, and why.", (),
                                              alias="not-offered")
    revision: Revision = key("Which revision this is, and who stands for it.")
