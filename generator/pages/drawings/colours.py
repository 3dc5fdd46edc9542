"""Colours of cores on the sheet, by their IEC 60757 letters."""

from dataclasses import dataclass

_HUES = {
    "BK": "#1c1c1c",
    "BN": "#8a4a1f",
    "RD": "#d21f26",
    "OG": "#e07800",
    "YE": "#ffd21f",
    "GN": "#1c8a3c",
    "BU": "#1f62d0",
    "VT": "#7d3fb0",
    "GY": "#868c92",
    "WH": "#ffffff",
    "PK": "#f07fae",
    "GD": "#b8922e",
    "TQ": "#12a5a0",
    "SR": "#b9bec4",
}
_BARE = "#4a4f55"
_CASING = "#3a3f45"
_LIGHT = frozenset({"WH", "YE", "SR", "PK", "GD"})


@dataclass(frozen=True)
class Ink:
    """How a core is drawn: its hue, a dark casing if it is too light for white, a dashed stripe."""

    hue: str
    casing: str = ""
    stripe: str = ""


def ink(letters: str) -> Ink:
    """The ink of one colour, or of two such as GNYE, of which the second is a stripe.

    No letters are a bare link; ValueError for letters that IEC 60757 does not have.
    """
    if not letters:
        return Ink(_BARE)
    ground, stripe = letters[:2], letters[2:]
    if ground not in _HUES or stripe not in ("", *_HUES):
        raise ValueError(f"not a colour of IEC 60757: {letters}")
    return Ink(_HUES[ground], _CASING if ground in _LIGHT else "", _HUES.get(stripe, ""))
