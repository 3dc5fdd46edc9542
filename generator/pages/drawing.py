"""Turns DOT text into SVG for a page; the only module that runs a program."""

import re
import subprocess
import sysconfig
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from graphviz.backend import dot_command  # type: ignore[import-untyped]

from generator.pages.drawings.dot import BACKSLASH

_PROGRAM = Path(sysconfig.get_path("scripts")) / "graphviz-pure"
_SECONDS = 60
_SVG = "{http://www.w3.org/2000/svg}"
_SPOKEN = "{http://www.w3.org/1999/xlink}title"
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_SHAPES = {f"{_SVG}{name}" for name in ("path", "polygon", "polyline", "ellipse", "text")}
_FACE = "DejaVu Sans, Arial, sans-serif"
# Every text has been given its room before, so it does not matter how wide Graphviz thinks it is.
_HARMLESS = re.compile(r"no value for width of non-ASCII character|size too small for label")

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
    drawn = {group.attrib["id"]: group for group in sheet.findall(f"{_SVG}g")}
    missing = sorted(set(re.findall(r' id="([^"]+)"', dot)) - set(drawn))
    if missing:
        raise DrawingError(f"not drawn: {', '.join(missing)}")
    svg = ElementTree.tostring(_page_svg(root, sheet, drawn), encoding="unicode")
    return svg.replace(BACKSLASH, "\\")


def _drawn(dot: str) -> str:
    # The library knows how the program is called; which program that is, is ours to say.
    command = [str(_PROGRAM), *map(str, dot_command.command("neato", "svg", neato_no_op=2)[1:])]
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


def _page_svg(root: Element, sheet: Element, drawn: Mapping[str, Element]) -> Element:
    look = {"width": "100%", "viewBox": root.attrib["viewBox"], "role": "img", "font-family": _FACE}
    svg = Element(f"{_SVG}svg", look)
    for tag, ident in (("title", "card"), ("desc", "card+words")):
        SubElement(svg, f"{_SVG}{tag}").text = _spoken(drawn[ident])
    place = SubElement(svg, f"{_SVG}g", {"transform": sheet.attrib["transform"]})
    place.extend(_whole(drawn))
    return svg


def _whole(drawn: Mapping[str, Element]) -> list[Element]:
    """One group for each part, terminal and core: what stands after a plus joins what is before."""
    groups: dict[str, Element] = {}
    for ident, group in drawn.items():
        owner, _, extra = ident.partition("+")
        whole = groups.setdefault(owner, Element(f"{_SVG}g", {"id": owner}))
        if not extra:
            whole.attrib["class"] = group.attrib["class"].partition(" ")[2] or owner
            title = Element(f"{_SVG}title")
            title.text = _spoken(group)
            whole.insert(0, title)
        whole.extend(_shapes(group))
    return list(groups.values())


def _shapes(group: Element) -> list[Element]:
    shapes = [shape for shape in group.iter() if shape.tag in _SHAPES]
    strong = "strong" in group.attrib["class"].split()
    for shape in shapes:
        shape.tail = None
        for name in ("font-family", _SPACE):
            shape.attrib.pop(name, None)
        if strong:
            shape.attrib["font-weight"] = "bold"
    return shapes


def _spoken(group: Element) -> str:
    return next((each.attrib[_SPOKEN] for each in group.iter() if _SPOKEN in each.attrib), "")
