"""The shape of a conversion's choices: what is met in more than one way, and what then differs."""

from __future__ import annotations

from generator.recipe.forms import Name, Shape, Text, key
from generator.recipe.words import Cost, Doubt, Expected, Going, SetUp


class OwnerWords(Shape):
    """Parts of the owner's page; each stands in for the whole of what the conversion says there."""

    changed: str = key("What was changed.", "")
    use: tuple[Text, ...] = key("How to use it.", ())
    no_heat: tuple[Text, ...] = key("What to do when there is no heat.", (), alias="no-heat")


class Words(Shape):
    """Words that a conversion has besides while an option is chosen."""

    needs: tuple[Text, ...] = key("What must be found on site.", ())
    not_with: tuple[Doubt, ...] = key("What rules it out, and what to do then.", (),
                                      alias="not-with")
    look: tuple[Text, ...] = key("What to look at and measure before quoting.", ())
    take_with: tuple[Text, ...] = key("What to take besides what is worked out.", (),
                                      alias="take-with")
    goes: dict[str, Going] = key("Parts, cables and links that are found and not kept.", {})
    take_out: tuple[Text, ...] = key("Steps of taking out that no part or cable says.", (),
                                     alias="take-out")
    cost: tuple[Cost, ...] = key("What the change costs the owner.", ())
    expect: tuple[Expected, ...] = key(
        "What must be true afterwards; a case of the same name is put in its place.", ())
    first_on: tuple[Text, ...] = key("What must be seen to before the supply is switched on.", (),
                                     alias="first-on")
    set_up: tuple[SetUp, ...] = key("Joining and setting up, in order.", (), alias="set-up")
    settings: tuple[Text, ...] = key("Settings to leave.", ())
    record: tuple[Text, ...] = key("Lines of the record besides the usual ones.", ())
    owner: OwnerWords = key("What stands in for parts of the owner's page.", OwnerWords())


class LeftOut(Shape):
    """Words of a conversion that do not hold while an option is chosen."""

    goes: tuple[str, ...] = key("Names under `goes:`.", ())
    expect: tuple[Text, ...] = key("Names of cases under `expect:`.", ())


class Option(Shape):
    """One way in which a choice can turn out."""

    says: Text = key("What it is, in a few words.")
    found: tuple[Name, ...] = key("Changes, of those the found system offers, that it means.", ())
    fitted: tuple[Name, ...] = key("Changes, of those the fitted system offers, that it means.",
                                   ())
    adds: Words = key("What the conversion says besides.", Words())
    leaves_out: LeftOut = key("What the conversion does not say then.", LeftOut(),
                              alias="leaves-out")


class Choice(Shape):
    """Something that is met, or wanted, in more than one way."""

    asks: Text = key("The question, for the engineer.")
    options: dict[Name, Option] = key("Each way by name; the first is the usual one.",
                                      min_length=2)


class Together(Shape):
    """What is said besides where options of several choices meet."""

    when: dict[Name, Name] = key("Choice and option, for example: {cylinder: unvented}.",
                                 min_length=2)
    adds: Words = key("What the conversion says besides.")


class NotOffered(Shape):
    """Options that are not had together."""

    when: dict[Name, Name] = key("Choice and option, for example: {receiver: plain}.",
                                 min_length=1)
    because: Text = key("Why not, said plainly.")
    fails: Name | None = key("A rule that must find something wrong with it.", None)
