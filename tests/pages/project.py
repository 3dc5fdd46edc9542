"""Copies of this project to build, break and mend, and what the pages of a site hold."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urljoin, urlsplit

from generator.building import build_site

ROOT = Path(__file__).parents[2]
CONVERSION = "recipes/conversions/electronic-cylinder-to-wireless-two-zone.yaml"
FOUND = "recipes/systems/closed-family-two-zones-electronic-cylinder.yaml"
FITTED = "recipes/systems/two-zone-wireless-receiver-cylinder-cut-out.yaml"
RECEIVER = "recipes/parts/receiver-two-channel.yaml"
INLINE = {"a", "abbr", "b", "code", "em", "i", "label", "span", "strong", "sub", "sup"}
"""Elements between which a browser puts no space."""
LOADS = {"link": "href", "script": "src", "img": "src", "source": "src", "iframe": "src",
         "object": "data", "image": "href", "use": "href"}
"""What a browser fetches by itself, and the attribute that says from where."""


KEPT = {
    "electronic-cylinder-to-wireless-two-zone",
    "closed-family-two-zones-electronic-cylinder",
    "two-zone-wireless-receiver-cylinder-cut-out",
    "combination-boiler-time-switch-to-wireless",
    "combination-boiler-time-switch-room-thermostat",
    "combination-boiler-wireless",
    "combination-boiler-volt-free-wireless",
    "mid-position-vented-cylinder",
    "two-zone-wireless-receiver-vented-cylinder",
}
"""Systems and conversions of a small handbook: found and standard, a variant, a choice."""


def copied(folder: Path, *, whole: bool = False) -> Path:
    """Copy what a site is made of into a folder, and return the folder.

    Of systems and conversions a few alone, unless the whole handbook is wanted: it takes a minute.
    """
    for name in ("recipes", "site_templates"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    for path in () if whole else (folder / "recipes").glob("*/*.yaml"):
        if path.parent.name in ("systems", "conversions") and path.stem not in KEPT:
            path.unlink()
    return folder


def built(folder: Path, *, whole: bool = False) -> Path:
    """Copy the project into a folder, build it, and return the site."""
    return build_site(copied(folder, whole=whole) / "mkdocs.yml")


def edit(file: Path, old: str, new: str) -> None:
    """Replace in a file what stands in it exactly once."""
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{file.name}: {text.count(old)} x {old!r}"
    file.write_text(text.replace(old, new), encoding="utf-8")


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder by its path."""
    return {path.relative_to(folder).as_posix(): path.read_bytes()
            for path in sorted(folder.rglob("*")) if path.is_file()}


@dataclass
class Html(HTMLParser):
    """What one page holds, as a browser reads it."""

    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    fetched: list[str] = field(default_factory=list)
    meta: dict[str, str] = field(default_factory=dict)
    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        self._apart(tag)
        self.tags.append((tag, said))
        if "id" in said:
            self.ids.append(said["id"])
        if tag == "a" and "href" in said:
            self.links.append(said["href"])
        if LOADS.get(tag) in said:
            self.fetched.append(said[LOADS[tag]])
        if tag == "meta" and "name" in said:
            self.meta[said["name"]] = said.get("content", "")

    def handle_endtag(self, tag: str) -> None:
        self._apart(tag)

    def _apart(self, tag: str) -> None:
        if tag not in INLINE:
            self.texts.append(" ")

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    def handle_comment(self, data: str) -> None:
        self.comments.append(data)

    def count(self, tag: str) -> int:
        """Return how many elements of a kind there are."""
        return sum(tag == each for each, _ in self.tags)

    @property
    def text(self) -> str:
        """Return all text with single spaces, blocks apart and inline elements together."""
        return " ".join("".join(self.texts).split())


def read_html(text: str) -> Html:
    """Return what a piece of HTML holds."""
    page = Html()
    page.feed(text)
    page.close()
    return page


@lru_cache(maxsize=256)
def read_page(file: Path) -> Html:
    """Return what a page holds."""
    return read_html(file.read_text(encoding="utf-8"))


def pages(site: Path) -> list[Path]:
    """Return the pages of a site in order."""
    return sorted(site.rglob("*.html"))


def targets(site: Path, page: Path) -> Iterator[tuple[str, Path, str]]:
    """Yield each link of a page inside the site: as written, the file and the anchor it means."""
    here = "/" + page.relative_to(site).as_posix().removesuffix("index.html")
    for link in read_page(page).links:
        parts = urlsplit(urljoin(here, link))
        if parts.scheme or parts.netloc:
            continue
        file = site / parts.path.lstrip("/")
        yield link, file / "index.html" if parts.path.endswith("/") else file, parts.fragment
