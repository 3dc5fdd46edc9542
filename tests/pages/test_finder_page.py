"""The fault finder on a page: a plain list that works, and one question at a time with a script."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, sync_playwright

from tests.pages.project import CONVERSION, read_page

PAGE = f"conversions/{Path(CONVERSION).stem}/index.html"
COMPLAINT = "Heating calls: heating valve open, boiler burner off"


def body(site: Path) -> str:
    return (site / PAGE).read_text(encoding="utf-8")


def questions(site: Path) -> list[str]:
    return re.findall(r'<li id="find-\d+-\d+".*?</ul></li>', body(site), re.DOTALL)


@pytest.mark.drawing
def test_every_answer_leads_to_a_question_or_says_where_to_look(site: Path) -> None:
    ids = set(read_page(site / PAGE).ids)
    asked = questions(site)
    assert len(asked) > 100
    for question in asked:
        answers = re.findall(r"<li(?: class=\"hb-detour\")?>(.*?)</li>", question, re.DOTALL)
        assert len(answers) > 2
        assert "ould not" in answers[-1]
        for answer in answers:
            links = re.findall(r'href="#(find-[^"]+)"', answer)
            assert set(links) <= ids
            assert links or "Isolate, prove dead, mend" in answer or "stop here" in answer


@pytest.mark.drawing
def test_live_steps_carry_the_caution_and_covers_say_who_opens_them(site: Path) -> None:
    # Electricity at Work Regulations 1989 regulation 14; GSIUR 1998 regulation 3; AD G 3.40.
    live = [question for question in questions(site) if re.search(r"hb-asks\">Read ", question)]
    assert live
    assert all("proved two-pole indicator" in each for each in live)
    opening = [each for each in questions(site) if "boiler" in each and "Open <" in each]
    assert opening
    assert all("gas register" in each for each in opening)
    assert "regulation 14" in body(site)
    assert "never proves a circuit dead" in body(site)


@pytest.mark.drawing
def test_where_the_supply_trips_nothing_is_asked_with_it_on(site: Path) -> None:
    found = re.findall(r'<details class="hb-finder".*?</details>', body(site), re.DOTALL)
    tripping = [each for each in found if ": the supply trips</summary>" in each]
    assert tripping
    for each in tripping:
        assert "Leave the supply off." in each
        assert "supply on." not in each
        assert 'hb-live"' not in each


@pytest.mark.drawing
def test_the_first_look_opens_nothing(site: Path) -> None:
    # Batteries, pressure, levers: common practice, no source.
    text = read_page(site / PAGE).text
    for said in ("lamp lit", "batteries", "water pressure", "valve levers", "hotter than the dial",
                 "seldom of later", "something that is no wiring fault"):
        assert said in text
    assert text.index("without opening anything") < text.index("Choose what is seen")
    assert "It can only be" not in text


@pytest.mark.drawing
def test_a_valve_open_that_should_be_shut_is_looked_at_before_a_core_is_blamed(site: Path) -> None:
    found = re.findall(r'<details class="hb-finder".*?</details>', body(site), re.DOTALL)
    open_valves = [each for each in found if re.search(
        r"<summary>Nothing calls: [^<]*valve open", each)]
    assert len(open_valves) == 4
    for each in open_valves:
        assert "is its lever latched, or the valve stuck?" in each
        assert "of the faults on this list only this one does it" in each
        hot = "hot-water valve open" in each.split("</summary>")[0]
        assert ("Leave the supply off until it is found" in each) is hot
        assert not hot or "supply on." not in each


@pytest.mark.drawing
def test_costs_are_said_to_be_a_judgement(site: Path) -> None:
    text = read_page(site / PAGE).text
    assert "opening a cover 3, isolating and proving dead 3; a box where a supply " \
           "arrives counts as isolating once more, and comes last. These are a judgement" in text


@pytest.mark.browser
@pytest.mark.drawing
def test_with_a_script_one_question_is_shown_and_keys_are_enough(site: Path) -> None:
    with sync_playwright() as playwright:
        page = visited(playwright, site, script=True)
        wrong: list[str] = []
        page.on("pageerror", lambda error: wrong.append(str(error)))
        finder = page.locator("details.hb-finder", has_text=COMPLAINT).first
        finder.locator("summary").click()
        shown = finder.locator(".hb-questions > li[id]:visible")
        assert shown.count() == 1
        assert shown.get_attribute("value") == "1"
        buttons = finder.locator("button:visible")
        assert all((box := button.bounding_box()) and box["height"] >= 48
                   for button in buttons.all())
        buttons.filter(has_text="→").first.focus()
        page.keyboard.press("Enter")
        assert shown.count() == 1
        assert shown.get_attribute("value") != "1"
        finder.get_by_role("button", name="Back").press("Enter")
        assert shown.get_attribute("value") == "1"
        end = finder.locator("button[aria-expanded]:visible").first
        end.press("Space")
        assert end.get_attribute("aria-expanded") == "true"
        assert finder.locator(".hb-end:visible").count() == 1
        finder.get_by_role("button", name="Whole list").click()
        assert shown.count() > 5
        assert wrong == []


@pytest.mark.browser
@pytest.mark.drawing
def test_without_a_script_the_whole_list_is_there_and_its_links_lead_on(site: Path) -> None:
    with sync_playwright() as playwright:
        page = visited(playwright, site, script=False)
        finder = page.locator("details.hb-finder", has_text=COMPLAINT).first
        finder.locator("summary").click()
        shown = finder.locator(".hb-questions > li[id]:visible")
        assert shown.count() > 5
        assert finder.locator("button").count() == 0
        link = finder.locator(".hb-answers a").first
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
