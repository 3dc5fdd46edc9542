"""The built site: whole, the same at every build, complete in its links, and asking nobody."""

from __future__ import annotations

import json
import re
from functools import cache
from html import unescape
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from generator.checks.catalogue import RULES
from generator.pages.site import SitePage
from generator.pipeline import check, every_file, publish
from tests.pages.project import ROOT, built, contents, pages, read_html, read_page, targets

STAMPED = {"sitemap.xml", "sitemap.xml.gz"}
"""What MkDocs writes the day or the second into."""
OTHER_HOST = re.compile(r"(?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}", re.IGNORECASE)
LOADED_BY_STYLE = re.compile(r"url\(\s*['\"]?([^'\")]+)|@import\s+['\"]([^'\"]+)")
LOADED_BY_SCRIPT = re.compile(
    r"(?:fetch|importScripts|import|new Worker|new Request)\(\s*['\"`]((?:https?:)?//[^'\"`]+)")
NOT_OURS = "404.html"


@cache
def said_pages() -> dict[str, SitePage]:
    recipes = ROOT / "recipes"
    handbook = check(recipes, every_file(recipes))
    return {page.path: page for page in publish(handbook, ROOT / "site_templates")}


def file_of(page: str) -> str:
    return page.replace("index.md", "index.html") if page == "index.md" \
        else page.removesuffix(".md") + "/index.html"


def test_every_page_is_there_and_no_other(site):
    there = {page.relative_to(site).as_posix() for page in pages(site)}
    assert there == {file_of(path) for path in said_pages()} | {NOT_OURS}
    assert len(there) > len(RULES) + 20


def test_two_builds_differ_in_nothing_but_the_day(tmp_path):
    first, second = (contents(built(folder)) for folder in (tmp_path / "one", tmp_path / "two"))
    assert list(first) == list(second)
    assert {name for name in first if first[name] != second[name]} <= STAMPED


def test_every_link_leads_to_a_file_and_an_anchor(site):
    dead = []
    for page in pages(site):
        for link, file, anchor in targets(site, page):
            if not file.is_file() or (
                    anchor and file.suffix == ".html" and anchor not in read_page(file).ids):
                dead.append(f"{page.relative_to(site)}: {link}")
    assert not dead, "\n".join(dead)


def test_links_are_really_followed(site):
    conversion = next(site.glob("conversions/*/index.html"))
    led = {file.relative_to(site).as_posix() for _, file, _ in targets(site, conversion)}
    assert any(file.startswith("systems/") for file in led)
    assert any(file.startswith("rules/") for file in led)


def test_every_id_stands_once_in_its_page(site):
    doubled = [(page.relative_to(site).as_posix(), ident) for page in pages(site)
               for ident in set(read_page(page).ids) if read_page(page).ids.count(ident) > 1]
    assert not doubled


@pytest.mark.drawing
def test_every_drawing_is_in_its_place(site):
    for path, page in said_pages().items():
        html = read_page(site / file_of(path))
        drawn = [said for tag, said in html.tags if tag == "svg" and said.get("role") == "img"]
        assert len(drawn) == len(page.drawings), path
        assert not [comment for comment in html.comments if "drawing" in comment]
    assert sum(len(page.drawings) for page in said_pages().values()) >= 4


def test_nothing_is_loaded_from_another_host(site):
    asked = []
    for page in pages(site):
        asked += [(page.name, url) for url in read_page(page).fetched if urlsplit(url).netloc]
    for style in site.rglob("*.css"):
        found = LOADED_BY_STYLE.findall(style.read_text(encoding="utf-8"))
        asked += [(style.name, url) for pair in found for url in pair if OTHER_HOST.match(url)]
    for script in site.rglob("*.js"):
        found = LOADED_BY_SCRIPT.findall(script.read_text(encoding="utf-8"))
        asked += [(script.name, url) for url in found]
    assert not asked
    assert any(read_page(page).fetched for page in pages(site))


def test_every_page_has_a_description_and_one_heading(site):
    for page in pages(site):
        html = read_page(page)
        assert html.meta.get("description"), page
        assert html.count("h1") == 1, page


@pytest.fixture(scope="session")
def entries(site: Path) -> list[dict[str, str]]:
    return json.loads((site / "search/search_index.json").read_text(encoding="utf-8"))["docs"]


def test_search_finds_every_page_by_its_title(entries):
    titles = {unescape(entry["title"]) for entry in entries}
    assert {page.title for page in said_pages().values() if not page.markdown} <= titles


def test_search_finds_words_of_conversions_parts_and_rules(entries):
    def where(word: str) -> set[str]:
        return {entry["location"].split("/")[0] for entry in entries if word in entry["text"]}

    assert "conversions" in where("hand-reset")
    assert "parts" in where("boost button")
    assert "rules" in where("BS 7671")


def test_search_runs_no_words_together(site, entries):
    joined = {}
    for entry in entries:
        page = site / entry["location"].split("#")[0] / "index.html"
        joined[entry["location"]] = (set(read_html(entry["text"]).text.split())
                                     - set(read_page(page).text.split()))
    assert len(joined) > 200
    assert not {where: words for where, words in joined.items() if words}


@pytest.mark.drawing
def test_search_holds_no_label_of_a_drawing(site, entries):
    said = " ".join(entry["text"] + entry["title"] for entry in entries)
    page = next(site.glob("conversions/*/index.html")).read_text(encoding="utf-8")
    assert "<title>-W6.BK: " in page  # said only within the drawing
    assert "-W6.BK: " not in said
    assert "BU(BN)" in page
    assert "BU(BN)" not in said


def test_a_variant_says_what_it_is_made_of_and_what_is_otherwise():
    body = said_pages()["systems/two-zone-wireless-receiver-frost.md"].body
    base = "two-zone-wireless-receiver-cylinder-cut-out"
    title = "Two zones, wireless receiver, cylinder thermostat and cut-out"
    assert f'systems/{base}/">{title}</a>' in body
    assert "otherwise in this:" in body


def test_a_page_with_choices_leads_to_the_page_of_each_answer_or_says_why_there_is_none():
    said = said_pages()
    page = said["conversions/combination-boiler-time-switch-to-wireless.md"].body
    assert 'href="../../conversions/combination-boiler-time-switch-to-wireless--wired/"' in page
    other = said["conversions/combination-boiler-time-switch-to-wireless--wired.md"].body
    assert 'href="../../conversions/combination-boiler-time-switch-to-wireless/"' in other
    refused = said["conversions/mid-position-to-wireless-receiver.md"].body
    assert "<b>Not offered:</b>" in refused
    assert "What the model finds wrong with it" in refused
