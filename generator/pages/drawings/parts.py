"""Parts and terminals where they stand on the sheet, with their words."""

from generator.pages.drawings.figures import LINE, MARGIN, Figure, Row, title_indent
from generator.pages.drawings.lettering import BODY
from generator.pages.drawings.plan import Area, Part, Terminal, Text

_RIM = 2  # of a part, round the bands of its terminals
_SEAM = 2  # between one band and the next


def part(figure: Figure, x: float, y: float) -> Part:
    """The figure with its upper left corner at x and y."""
    first, *rest = figure.title
    left = x + MARGIN
    texts = [Text(left, y + LINE * 0.75, f"-{figure.box.designation}", "l", BODY, strong=True)]
    if first:
        texts.append(Text(left + title_indent(figure.box), texts[0].y, first, "l", BODY))
    for line, words in enumerate(rest, start=1):
        texts.append(Text(left, texts[0].y + LINE * line, words, "l", BODY))
    return Part(figure.box, Area(x, y, figure.width, figure.height), tuple(texts))


def terminals(figure: Figure, x: float, y: float, anchor: str) -> tuple[Terminal, ...]:
    """The terminals of a figure; the anchor says on which side of it the labels stand."""
    return tuple(_terminal(figure, row, x, y, anchor) for row in figure.rows)


def _terminal(figure: Figure, row: Row, x: float, y: float, anchor: str) -> Terminal:
    label_x = {
        "l": x + MARGIN,
        "c": x + row.middle,
        "r": x + figure.width - MARGIN,
    }[anchor]
    cell = anchor == "c"
    texts = tuple(
        Text(label_x, y + row.place(line, len(row.label)), words, anchor, BODY, strong=cell)
        for line, words in enumerate(row.label)
    )
    return Terminal(figure.box, row.pin, _area(figure, row, x, y, anchor), texts, cell)


def _area(figure: Figure, row: Row, x: float, y: float, anchor: str) -> Area:
    """A cell as wide as the spine, or a band that reaches the edge where the wires are."""
    if anchor == "c":
        return Area(x, y + row.top, figure.width, row.height)
    outer = _RIM if anchor == "l" else 0
    top, height = y + row.top + _SEAM / 2, row.height - _SEAM
    return Area(x + outer, top, figure.width - _RIM, height)
