"""Turns DOT text into SVG for a page; the only module that runs a program."""

import re
import subprocess
import sysconfig
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree

_PROGRAM = Path(sysconfig.get_path("scripts")) / "graphviz-pure"
_SECONDS = 60
_SVG = "{http://www.w3.org/2000/svg}"
_SPOKEN = "{http://www.w3.org/1999/xlink}title"
_FACE = "DejaVu Sans, Arial, sans-serif"
# we give every text its room ourselves, so it does not matter what Graphviz thinks of its width
_HARMLESS = re.compile(r"no value for width of non-ASCII character")

ElementTree.register_namespace("", _SVG[1:-1])


class DrawingError(Exception):
    """The drawing program failed, complained, or left something out."""


@lru_cache(maxsize=512)
def render(dot: str) -> str:
    """SVG element for a page: as wide as its place, with a text alternative and words on each part.

    Ids are those in the DOT text. Raises DrawingError.
    """
    root = ElementTree.fromstring(_drawn(dot))
    sheet = root.find(f"{_SVG}g")
    if sheet is None:
        raise DrawingError("the drawing is empty")
    _tidy(root, sheet)
    _same_ids(dot, sheet)
    return ElementTree.tostring(root, encoding="unicode")


def _drawn(dot: str) -> str:
    command = [str(_PROGRAM), "-Kneato", "-n2", "-Tsvg"]
    try:
        done = subprocess.run(
            command, input=dot.encode(), capture_output=True, timeout=_SECONDS, check=False
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise DrawingError(f"the drawing program did not run: {error}") from error
    complaints = [line for line in done.stderr.decode().splitlines() if not _HARMLESS.search(line)]
    if done.returncode or complaints:
        raise DrawingError(f"drawing program, code {done.returncode}: {' '.join(complaints)}")
    return done.stdout.decode()


def _tidy(root: ElementTree.Element, sheet: ElementTree.Element) -> None:
    root.attrib.pop("height")
    root.attrib.update({"width": "100%", "role": "img", "font-family": _FACE})
    groups: dict[str, ElementTree.Element] = {}
    for drawn in sheet.findall(f"{_SVG}g"):
        sheet.remove(drawn)
        ident, _, extra = drawn.attrib["id"].partition("+")
        _add(groups, ident, extra, drawn)
    _say(root, groups["card"])
    for name in list(sheet.attrib):
        if name != "transform":
            del sheet.attrib[name]
    sheet[:] = groups.values()
