"""The forms that names, words and numbers of a recipe have, and how each is said in a message."""

from __future__ import annotations

import re
from datetime import date
from enum import StrEnum
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
)
from pydantic_core import PydanticCustomError


class Colour(StrEnum):
    """Letter codes of IEC 60757."""

    BLACK = "BK"
    BROWN = "BN"
    RED = "RD"
    ORANGE = "OG"
    YELLOW = "YE"
    GREEN = "GN"
    BLUE = "BU"
    VIOLET = "VT"
    GREY = "GY"
    WHITE = "WH"
    PINK = "PK"
    GOLD = "GD"
    TURQUOISE = "TQ"
    SILVER = "SR"
    GREEN_AND_YELLOW = "GNYE"


COLOURS = {colour.value: colour.name.lower().replace("_", "-") for colour in Colour}
"""What the letters stand for (IEC 60757)."""

NAME = r"^[a-z0-9][a-z0-9.-]*$"
DESIGNATION = r"^[A-Z]{1,2}[0-9]{1,3}$"
TERMINAL_NAME = r"^[A-Za-z0-9-]+$"
TERMINAL = r"^[A-Z]{1,2}[0-9]{1,3}:[A-Za-z0-9-]+$"
SWITCH = r"^[A-Z]{1,2}[0-9]{1,3}\.[a-z0-9-]+$"
OUTCOME = r"^[A-Z]{1,2}[0-9]{1,3}(\.[a-z0-9-]+)?$"
CORE = r"^[A-Z]{1,2}[0-9]{1,3}\.[A-Z]{2,4}$"
MOVED = r"^([A-Z]{1,2}[0-9]{1,3}\.[A-Z]{2,4}|[a-z0-9][a-z0-9.-]*)$"
DATE = r"^\d{4}-\d{2}-\d{2}$"

SAID = {
    NAME: "small letters, digits, hyphens and points, for example `hot-water`",
    DESIGNATION: "a designation: one or two capital letters and a number, for example `K1`",
    TERMINAL_NAME: "letters, digits and hyphens, for example `L` or `load-L`",
    TERMINAL: "a terminal: part, colon, terminal, without spaces, for example `X1:7`",
    SWITCH: "a switch: part, point, switch, for example `K1.hot-water`",
    OUTCOME: "a part, or a part and what it holds, for example `M1` or `E1.burner`",
    CORE: "a core: cable, point, colour, for example `W4.GY`",
    MOVED: "a core as `W4.BK`, or the name of a link",
    DATE: "a date as year, month and day, for example `2026-11-25`",
}
"""Each form in plain words."""

Text = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True)]
Name = Annotated[str, StringConstraints(pattern=NAME, max_length=60)]
Designation = Annotated[str, StringConstraints(pattern=DESIGNATION)]
TerminalName = Annotated[str, StringConstraints(pattern=TERMINAL_NAME, max_length=30)]
TerminalRef = Annotated[str, StringConstraints(pattern=TERMINAL)]
SwitchRef = Annotated[str, StringConstraints(pattern=SWITCH)]
OutcomeRef = Annotated[str, StringConstraints(pattern=OUTCOME)]
CoreRef = Annotated[str, StringConstraints(pattern=CORE)]
MovedRef = Annotated[str, StringConstraints(pattern=MOVED, max_length=60)]
Setting = dict[Name, Text]

_DECIMAL = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")
_WHOLE = re.compile(r"-?[0-9]{1,9}")


def _plain(form: re.Pattern[str], error: str) -> BeforeValidator:
    """Refuse `nan`, `inf`, `1e3` and `1_000`, which Python would take for numbers."""

    def check(written: object) -> object:
        if isinstance(written, str) and not form.fullmatch(written):
            raise PydanticCustomError("no_number", "{form}", {"form": error})
        return written

    return BeforeValidator(check)


def _true_or_false(written: object) -> object:
    # Python's library would also take `yes`, `on` and `1`, which an editor reads otherwise.
    if written not in ("true", "false", True, False):
        raise PydanticCustomError("no_truth", "true or false")
    return written


def _in_the_calendar(written: str) -> str:
    try:
        date.fromisoformat(written)
    except ValueError:
        raise PydanticCustomError("no_date", "a day of the calendar") from None
    return written


Date = Annotated[str, StringConstraints(pattern=DATE), AfterValidator(_in_the_calendar)]
Number = Annotated[float, _plain(_DECIMAL, "a number, for example `0.75`")]
Whole = Annotated[int, _plain(_WHOLE, "a whole number, for example `4`")]
Truth = Annotated[bool, BeforeValidator(_true_or_false)]


class Shape(BaseModel):
    """A mapping whose keys are all known."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


def key(description: str, default: Any = ..., **words: Any) -> Any:
    """Return a field with what the editor shows for it."""
    return Field(default, description=description, **words)
