"""The shapes of what a conversion says of one thing: what goes, costs, must be true, is set up."""

from __future__ import annotations

from typing import Literal

from generator.recipe.forms import Name, OutcomeRef, Shape, SwitchRef, Text, Truth, key


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


class SetUp(Shape):
    """One step of joining and setting up, after which the owner could be left with what works."""

    do: Text = key("What is done, once the safety tests are passed.")
    after_the_tests: Truth = key("true for what would disturb a test, as clocks and heads do: it "
                                 "waits for the last one.", False, alias="after-the-tests")
    works: dict[Name, Text] = key(
        "Each zone that can be used if the work is broken off after this step, and how.", {})
