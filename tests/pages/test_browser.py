"""Pages in a browser: on a phone, on a desk, in the dark, on paper; measured, not looked at."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.pages.project import CONVERSION, FITTED, FOUND

pytestmark = [pytest.mark.browser, pytest.mark.drawing]

MEASURES = (Path(__file__).parent / "measures.js").read_text(encoding="utf-8")
PHONE, DESK = (360, 780), (1280, 800)
CONVERSION_PAGE = f"conversions/{Path(CONVERSION).stem}/"
STANDARD_PAGE = f"systems/{Path(FITTED).stem}/"
KINDS = {
    "home": "", "which": "which-conversion/", "how to read": "how-to-read/",
    "conversion": CONVERSION_PAGE,
    "found system": f"systems/{Path(FOUND).stem}/", "standard system": STANDARD_PAGE,
    "part": "parts/closed-wiring-box/", "relay": "parts/relay-change-over/",
    "cables": "parts/cables/", "rule": "rules/load-without-neutral/",
}
LEAST_LETTER, LEAST_TARGET, LEAST_CONTRAST = 10.5, 44, 7
"""CSS px, CSS px, and the ratio that WCAG 2.2 asks for at level AAA (1.4.6)."""


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing of each request."""


@pytest.fixture(scope="module")
def home(site: Path) -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"])
        yield chromium
        chromium.close()


class Visit:
    """A page opened in a window of its own, and everything that was wrong with it."""

    def __init__(self, browser: Browser, home: str, path: str, size: tuple[int, int],
                 scheme: str = "light") -> None:
        self.wrong: list[str] = []
        self.context = browser.new_context(
            viewport={"width": size[0], "height": size[1]}, color_scheme=scheme)
        self.page: Page = self.context.new_page()
        self.page.on("console", lambda said: self._told(said.type, said.text))
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("request", lambda request: self._asked(request.url, home))
        self.page.goto(home + path, wait_until="networkidle")
        self.page.evaluate(MEASURES)

    def _told(self, kind: str, text: str) -> None:
        if kind in ("error", "warning"):
            self.wrong.append(text)

    def _asked(self, url: str, home: str) -> None:
        if not url.startswith((home, "data:", "blob:")):
            self.wrong.append(url)

    def measured(self, what: str, *values: object) -> Any:
        return self.page.evaluate(f"values => handbookMeasures.{what}(...values)", list(values))

    def __enter__(self) -> Visit:
        return self

    def __exit__(self, *_: object) -> None:
        self.context.close()


@pytest.mark.parametrize("path", KINDS.values(), ids=KINDS)
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_page_opens_clean_fits_and_can_be_read(browser, home, path, size, scheme):
    with Visit(browser, home, path, size, scheme) as visit:
        assert visit.measured("width") <= size[0]
        assert visit.measured("tooWide") == []
        assert visit.measured("tooFaint", LEAST_CONTRAST) == []
        assert visit.measured("texts") > 20
        assert visit.wrong == []


@pytest.mark.parametrize("path", KINDS.values(), ids=KINDS)
def test_what_is_tapped_is_large_enough_for_a_glove(browser, home, path):
    with Visit(browser, home, path, PHONE) as visit:
        visit.measured("openAll")
        assert visit.measured("tooSmall", LEAST_TARGET) == []


def test_a_conversion_has_much_to_tap(browser, home):
    with Visit(browser, home, CONVERSION_PAGE, PHONE) as visit:
        assert visit.measured("targets") > 100


@pytest.mark.parametrize("path", [CONVERSION_PAGE, STANDARD_PAGE, KINDS["found system"]])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_drawings_can_be_read_on_a_phone(browser, home, path, scheme):
    with Visit(browser, home, path, PHONE, scheme) as visit:
        drawings = visit.measured("drawings")
        assert drawings
        for drawing in drawings:
            assert drawing["width"] >= 320
            assert drawing["least"] >= LEAST_LETTER
            assert drawing["faint"] == []


def test_a_heading_jumped_to_is_not_under_the_header(browser, home):
    for anchor in ("dead", "test-1", "why"):
        with Visit(browser, home, f"{CONVERSION_PAGE}#{anchor}", PHONE) as visit:
            visit.page.wait_for_timeout(300)
            assert visit.measured("belowHeader", anchor) >= 0


def test_the_measures_see_what_is_wrong(browser, home):
    with Visit(browser, home, CONVERSION_PAGE, PHONE) as visit:
        visit.page.add_style_tag(content="""
            .hb p { width: 500px; color: #888; }
            .hb summary { min-height: 0 !important; padding: 0 !important }
            .hb .hb-name { white-space: normal } .hb .hb-drawing svg { width: 300px }
            details::details-content { content-visibility: hidden !important }""")
        for what, value in (("tooWide", None), ("tooFaint", LEAST_CONTRAST),
                            ("tooSmall", LEAST_TARGET), ("brokenNames", None),
                            ("hiddenOnPaper", None), ("cutOff", None)):
            assert visit.measured(what, value), what
        assert visit.measured("drawings")[0]["least"] < LEAST_LETTER


def test_no_designation_is_broken_over_two_lines(browser, home):
    for path in (CONVERSION_PAGE, STANDARD_PAGE):
        with Visit(browser, home, path, PHONE) as visit:
            visit.measured("openAll")
            assert visit.measured("brokenNames") == []


@pytest.mark.parametrize(("words", "found"), [
    ("spring return", "parts/two-port-valve/"),
    ("immersion cable taken over", CONVERSION_PAGE),
    ("neutral", "rules/"),
])
def test_search_finds_what_is_typed(browser, home, words, found):
    with Visit(browser, home, "", DESK) as visit:
        visit.page.locator("input.md-search__input").click()
        visit.page.keyboard.type(words, delay=20)
        result = visit.page.locator(f".md-search-result__link[href*='{found}']").first
        expect(result).to_be_attached(timeout=10_000)
        assert visit.wrong == []


@pytest.mark.parametrize("path", KINDS.values(), ids=KINDS)
def test_paper_holds_everything(browser, home, path):
    with Visit(browser, home, path, (718, 1000)) as visit:  # 190 mm: A4 less its margins
        visit.page.emulate_media(media="print")
        assert visit.measured("hiddenOnPaper") == []
        assert visit.measured("cutOff") == []
        assert visit.page.pdf(format="A4", prefer_css_page_size=True)[:5] == b"%PDF-"
