"""What a conversion page and its survey sheet say besides the order of the work."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.circuit.flagship import NAME
from tests.pages.project import read_page
from tests.pages.test_work_page import plain, section
from tests.sitework.jobs import CONVERSIONS, combinations

WIRED = "wired-programmer-to-wireless-two-zone"
NOTIFIED = "Unvented hot water: work on its safety devices notified"


@pytest.mark.parametrize("name", CONVERSIONS)
def test_unvented_work_is_notified_only_where_the_fitted_zone_is_unvented(
    site: Path, name: str
) -> None:
    for done in combinations(name):
        stores = {zone.stores for zone in done.job.job.fitted.system.zones.values()}
        said = plain(section(site, done.job.job.name, "leave"))
        assert (NOTIFIED in said) == ("unvented cylinder" in stores)
        assert "where the work is notifiable or a competent person scheme asks for it" in said


@pytest.mark.parametrize("name", CONVERSIONS)
def test_earthing_is_seen_at_the_survey_and_loop_impedance_has_its_row(
    site: Path, name: str
) -> None:
    # BS 7671 132.16 and part 6: from memory.
    sheet = " ".join(read_page(site / "surveys" / name / "index.html").text.split())
    assert "Main earthing and bonding of gas, water and oil pipes" in sheet
    assert "Earth fault loop impedance" in plain(section(site, name, "live"))
    record = plain(section(site, name, "leave"))
    assert "Main earthing and bonding seen" in record
    assert "Zs, Ω; RCD, ms" in record


def test_clock_heads_and_account_come_after_the_last_test_and_what_was_off_goes_on_again(
    site: Path
) -> None:
    live = section(site, NAME, "live")
    first, _, last = live.partition('<h3 id="last">After the last test</h3>')
    said = plain(last)
    assert "<article" not in last
    assert first.count("<article") > 4
    for word in ("hot-water clock", "radiator heads", "account", "on again and its times read"):
        assert word in said
    assert "radiator heads" not in plain(first.partition('id="join"')[2].partition("<article")[0])


def test_how_the_part_wants_to_be_joined_is_folded_below_the_set_up(site: Path) -> None:
    joined = section(site, NAME, "live").partition('id="join"')[2].partition("<article")[0]
    above, _, folded = joined.partition("<details>")
    assert 'aria-label="Set up"' in above
    assert "wireless receiver" in plain(folded.partition("</summary>")[0])
    assert "<ol" not in joined.partition("</details>")[2]


def test_who_opens_the_cylinder_stands_before_what_the_test_sets(site: Path) -> None:
    live = plain(section(site, f"{WIRED}--unvented", "live"))
    said = "Only a person competent for unvented hot water. Cover off -B1 and -F2"
    assert live.count(said) == 2
    assert live.index("Test 2") < live.index(said) < live.index("take the core off the cut-out")
    dead = plain(section(site, f"{WIRED}--unvented", "dead"))
    assert dead.count("Opened only by a person competent for unvented hot water.") == 2
    record = plain(section(site, f"{WIRED}--unvented", "leave"))
    assert "Dead at -F2 : proved, tested, proved" in record.replace(" :", " :")
    assert "unvented" not in plain(section(site, WIRED, "dead"))


def test_a_boiler_that_stays_shut_is_parted_at_the_strip(site: Path) -> None:
    check = plain(section(site, WIRED, "check-dead"))
    assert "-E1 stays shut : -W4.BN off -X1:1 , -W4.BU off -X1:3 , -W4.BK off -X1:9" in check
    assert "motors show some kΩ" in check
    assert "-E1 stays shut" not in plain(section(site, NAME, "check-dead"))


def test_every_pair_of_a_box_has_its_own_tick(site: Path) -> None:
    page = read_page(site / "conversions" / WIRED / "index.html")
    ticks = [said.get("aria-label") or "" for tag, said in page.tags if tag == "input"]
    assert "X1:9 against a known earth reads 0 V" in ticks
    assert "X1:9 against X1:3 reads 0 V" in ticks
    pairs = [each for each in ticks if each.endswith("reads 0 V")]
    assert len(pairs) == len(set(pairs)) > 20
