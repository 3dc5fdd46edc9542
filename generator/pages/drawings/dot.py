"""DOT statements for things that have a place; what an id says after a plus belongs to the rest.

Graphviz counts y upwards, so each statement is told the height of the sheet.
"""

from collections.abc import Sequence

from generator.pages.drawings.lettering import width
from generator.pages.drawings.plan import Area, Text

BACKSLASH = "\ue05c"
"""Stands for a backslash in DOT text, where a doubled one still begins a name in some places."""

_HEAD = """graph wiring {
graph [outputorder=nodesfirst pad=0 margin=0 bgcolor=transparent]
node [fontname=Arial margin=0 fixedsize=true label="" shape=plaintext]
"""  # Arial is one of the fonts whose measures Graphviz knows without asking the machine


def document(statements: Sequence[str]) -> str:
    """The DOT text, one statement a line."""
    return _HEAD + "\n".join(statements) + "\n}\n"


def area(sheet: float, ident: str, place: Area, **attributes: str) -> str:
    """A rectangle, with the look that the attributes give it."""
    centre = place.x + place.width / 2, place.y + place.height / 2
    return _node(sheet, ident, centre, (place.width, place.height), attributes)


def text(sheet: float, ident: str, place: Text, kind: str) -> str:
    """A line of text."""
    wide = width(place.words, place.size, place.strong)
    x = place.x + {"l": wide / 2, "c": 0, "r": -wide / 2}[place.anchor]
    aligned = {"l": r"\l", "c": "", "r": r"\r"}[place.anchor]
    look = {
        "class": f"{kind} strong" if place.strong else kind,
        "fontsize": f"{place.size:g}",
        "label": place.words,
    }
    size = wide, place.size * 1.25
    return _node(sheet, ident, (x, place.y), size, look, aligned)


def path(
    sheet: float, ends: tuple[str, str], points: Sequence[tuple[float, float]], **attributes: str
) -> str:
    """A finished curve between two nodes."""
    where = " ".join(f"{x:.2f},{sheet - y:.2f}" for x, y in points)
    return f'"{ends[0]}" -- "{ends[1]}" [pos="{where}"{_written(attributes)}]'


def _node(
    sheet: float,
    ident: str,
    centre: tuple[float, float],
    size: tuple[float, float],
    attributes: dict[str, str],
    aligned: str = "",
) -> str:
    x, y = centre
    inches = f"width={size[0] / 72:.5f} height={size[1] / 72:.5f}"
    rest = _written({"id": ident} | attributes, aligned)
    return f'"{ident}" [pos="{x:.2f},{sheet - y:.2f}" {inches}{rest}]'


def _written(attributes: dict[str, str], aligned: str = "") -> str:
    return "".join(
        f' {name.strip("_")}="{_escaped(value)}{aligned if name == "label" else ""}"'
        for name, value in attributes.items()
    )


def _escaped(value: str) -> str:
    """Graphviz reads backslashes and entities in texts; white space shrinks to single spaces."""
    plain = " ".join(value.split())
    return plain.replace("\\", BACKSLASH).replace('"', r"\"").replace("&", "&amp;")
