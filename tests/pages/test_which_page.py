"""The page that leads to a conversion: a plain list that works, one at a time with a script."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, sync_playwright

from tests.pages.project import read_page

PAGE = "which-conversion/index.html"
FLAGSHIP = "closed-family-two-zones-electronic-cylinder"
CONVERSION = "electronic-cylinder-to-wireless-two-zone"


def body(site: Path) -> str:
    return (site / PAGE).read_text(encoding="utf-8")


def steps(site: Path) -> list[str]:
    return re.findall(r'<li id="which-\d+".*?</ul></li>', body(site), re.DOTALL)


@pytest.mark.drawing
def test_it_is_the_first_link_on_the_front_page(site: Path) -> None:
    front = (site / "index.html").read_text(encoding="utf-8")
    content = front[front.index('<div class="hb">'):]
    first = re.search(r'<a [^>]*href="([^"]+)"', content)
    assert first
    assert first.group(1) == "which-conversion/"


@pytest.mark.drawing
def test_every_answer_leads_on_or_says_what_it_is_or_to_stop(site: Path) -> None:
    ids = set(read_page(site / PAGE).ids)
    asked = steps(site)
    assert len(asked) > 3
    for step in asked:
        answers = re.findall(r"<li(?: class=\"hb-detour\")?>(.*?)</li>", step, re.DOTALL)
        assert len(answers) > 3
        assert "Something else" in answers[-2]
        assert "none of these" in answers[-2]
        assert "annot tell" in answers[-1]
        for answer in answers:
            then = re.findall(r'href="#(which-\d+)"', answer)
            looks = re.findall(r'href="\.\./which-conversion/#(looks-[^"]+)"', answer)
            assert set(then + looks) <= ids
            assert then or looks or "Stop, ask" in answer


@pytest.mark.drawing
def test_every_system_shows_all_it_shows_and_what_starts_there(site: Path) -> None:
    text = body(site)
    looks = re.findall(r'<h3 id="looks-([^"]+)".*?(?=<h3|<h2|</article>)', text, re.DOTALL)
    assert FLAGSHIP in looks
    start = text.index(f'id="looks-{FLAGSHIP}"')
    section = text[start:text.index("<h3", start) if "<h3" in text[start:] else None]
    assert f'href="../conversions/{CONVERSION}/"' in section
    assert "A sensor with a thin lead and no dial" in section
    assert "Made dead first: What is in the wiring box?" in section


@pytest.mark.drawing
def test_what_opens_a_box_is_made_dead_first_and_no_boiler_is_opened(site: Path) -> None:
    # HSG85 and BS 7671: isolate, lock off, prove dead; GSIUR 1998 regulation 3 for the boiler.
    opening = [step for step in steps(site) if "hb-live" in step]
    assert opening
    assert all("isolate every supply, lock off, prove dead" in step for step in opening)
    text = read_page(site / PAGE).text
    assert "Nobody opens a boiler for this page" in text
    assert "One supply off is not proof that there is only one" in text


@pytest.mark.drawing
def test_the_figures_stand_beside_what_no_order_could_do_with_less(site: Path) -> None:
    text = read_page(site / PAGE).text
    found = re.search(r"([\d.]+) questions expected, (\d+) at worst.*?less than ([\d.]+)", text)
    assert found
    expected, worst, bound = map(float, found.groups())
    assert bound <= expected <= worst
    assert "That is a judgement, no source" in text


@pytest.mark.browser
@pytest.mark.drawing
def test_with_a_script_it_leads_to_the_conversion_one_question_at_a_time(site: Path) -> None:
    with sync_playwright() as playwright:
        page = visited(playwright, site, script=True)
        wrong: list[str] = []
        page.on("pageerror", lambda error: wrong.append(str(error)))
        shown = page.locator(".hb-questions > li[id]:visible")
        assert shown.count() == 1
        assert shown.get_attribute("value") == "1"
        assert all((box := button.bounding_box()) and box["height"] >= 48
                   for button in page.locator(".hb-questions button:visible").all())
        shown.get_by_role("button", name="Cannot tell").press("Enter")
        assert shown.count() == 1
        assert shown.get_attribute("value") != "1"
        page.get_by_role("button", name="Back").press("Enter")
        assert shown.get_attribute("value") == "1"
        other = shown.get_by_role("button", name="Something else")
        other.press("Space")
        assert "Stop, ask" in page.locator(".hb-end:visible").inner_text()
        other.press("Space")
        assert led(page) == CONVERSION
        assert wrong == []


def led(page: Page) -> str:
    """Answer as the flagship's wall would, and return the conversion that the key ends at."""
    shown = page.locator(".hb-questions > li[id]:visible")
    for _ in range(20):
        looks = page.locator(".hb-end:visible")
        if looks.count():
            return looks.locator("a[href*=conversions]").get_attribute("href").split("/")[2]
        says = [button.inner_text() for button in shown.locator("button").all()]
        told = next(each for each in says if any(each.startswith(sign) for sign in (
            "Gas", "Two, with two pipes", "A programmer or thermostat on a thin data lead",
            "A sensor with a thin lead", "A circuit board", "No receiver",
            "A cylinder on the mains", "An immersion heater with a lead", "Heating alone",
            "A click in a closed", "One")))
        shown.get_by_role("button", name=told).press("Enter")
    return ""


@pytest.mark.browser
@pytest.mark.drawing
def test_without_a_script_the_whole_list_is_there_and_fits_a_phone(site: Path) -> None:
    with sync_playwright() as playwright:
        page = visited(playwright, site, script=False)
        shown = page.locator(".hb-questions > li[id]:visible")
        assert shown.count() == len(steps(site))
        assert page.locator(".hb-questions button").count() == 0
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        link = page.locator(".hb-answers a[href^='#']").first
        link.click()
        assert page.url.endswith(link.get_attribute("href") or "nowhere")


def visited(playwright: Playwright, site: Path, script: bool) -> Page:
    chromium = playwright.chromium.launch(
        executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"])
    context = chromium.new_context(java_script_enabled=script,
                                   viewport={"width": 360, "height": 780})
    page = context.new_page()
    page.goto((site / PAGE).as_uri())
    return page
