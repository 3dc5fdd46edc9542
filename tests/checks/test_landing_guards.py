"""What lands where, what stands in no zone and what is not tried: clean, and found once broken."""

from __future__ import annotations

from typing import Any

import pytest

from generator.checks.rule import Rule
from generator.checks.rules import (
    burner_fires_against_shut_valves,
    burner_fires_uncalled,
    colour_misleads,
    core_without_fate,
    cut_out_leaves_valve_powered,
    line_meets_neutral,
    load_never_runs,
    load_without_neutral,
    part_without_conductor,
    safety_case_missing,
    second_supply_unannounced,
    terminal_takes_other,
    valve_without_zone,
)
from generator.checks.subject import JobSubject, job_subject
from generator.findings import Severity
from tests.checks import test_behaviour_guards, test_electrical_guards
from tests.checks.edited import CONVERSION, FITTED, RECIPES, Edit, edited, link, part
from tests.checks.guards import asked_of

ASKED = {
    # Connection unit, receiver, thermostat, cut-out, two valves, boiler: what lands, but the strip.
    terminal_takes_other.RULE: 3 + 5 + 3 + 3 + 2 * 5 + 4,
    # Two valves and the boiler.
    valve_without_zone.RULE: 3,
    part_without_conductor.RULE: 10,
    # No call, the cylinder's cut-out, the one supply on which anything runs.
    safety_case_missing.RULE: 3,
    # 26 cores but one made safe, and six links.
    colour_misleads.RULE: 25 + 6,
}
"""How often each rule is asked of the flagship."""


def core(old: str, new: str) -> Edit:
    return Edit(FITTED, old, new)


def cut(begin: str, end: str, file: str = FITTED) -> str:
    """Return a stretch of the fitted system, or of another file, as it stands there."""
    text = (RECIPES / file).read_text(encoding="utf-8")
    return text[text.index(begin):text.index(end)]


def case(name: str, following: str) -> Edit:
    """Return the edit that takes a case out of the conversion."""
    text = (RECIPES / CONVERSION).read_text(encoding="utf-8")
    start = text.index(f"  - name: {name}\n")
    return Edit(CONVERSION, text[start:text.index(following, start)], "")


UNSET = Edit(CONVERSION, cut("set-up:\n", "settings:\n", CONVERSION), "")
"""Setting up names every zone, and so reads only where they are there."""
SWAPPED = (core("BN: {from: X1:1, to: E1:L,", "BN: {from: X1:1, to: E1:N,"),
           core("BU: {from: X1:3, to: E1:N,", "BU: {from: X1:3, to: E1:L,"))
SUPPLY = (core("BN: {from: Q1:load-L, to: X1:1,", "BN: {from: Q1:load-L, to: X1:3,"),
          core("BU: {from: Q1:load-N, to: X1:3,", "BU: {from: Q1:load-N, to: X1:1,"))
LOST = (core("BU: {from: Q1:load-N, to: X1:3, does: neutral}", "BU: {made-safe: cut back}"),)
FACTORY = link("factory-link", "E1:control-out", "E1:control-in")
BREAKS: dict[str, tuple[Rule[Any], str, str, tuple[Edit, ...]]] = {
    "boiler's neutral terminal on the line": (
        terminal_takes_other.RULE, "`E1:N` takes neutral and meets line", "BN: {from: X1:1",
        SWAPPED),
    "boiler's line terminal on the neutral": (
        terminal_takes_other.RULE, "`E1:L` takes line and meets neutral", "BU: {from: X1:3",
        SWAPPED),
    "line on the parking terminal": (
        terminal_takes_other.RULE, "`K1:park-E` takes earth and meets line", "GNYE: {from: X1:1, ",
        (core("GNYE: {from: X1:11, to: K1:park-E,", "GNYE: {from: X1:1, to: K1:park-E,"),)),
    "receiver's line on the earth": (
        terminal_takes_other.RULE, "`K1:L` takes line and meets earth", "BN: {from: X1:11, ",
        (core("BN: {from: X1:1, to: K1:L,", "BN: {from: X1:11, to: K1:L,"),)),
    "supply the wrong way round": (
        terminal_takes_other.RULE, "`K1:N`, `M1:N`, `M2:N` and `E1:N` take neutral and meet line",
        "BN: {from: Q1:load-L, to: X1:3", SUPPLY),
    "no zones": (
        valve_without_zone.RULE, "No zone calls for what `E1.burner` heats", "E1: {is: boiler",
        (core(cut("zones:\n", "parts:\n"), ""), UNSET)),
    "heating valve without a zone": (
        valve_without_zone.RULE, "The valve `M1` belongs to no zone", "M1: {is: two-port-valve",
        (core(cut("  heating:\n", "  hot-water:\n"), ""), UNSET)),
    "spare valve": (
        part_without_conductor.RULE, "Nothing lands on `M3`", "M3: {is: two-port-valve",
        (part("M3: {is: two-port-valve, at: airing cupboard}"),)),
    "heater without its notice": (
        part_without_conductor.RULE, "Nothing lands on `E2`", "E2: {is: immersion-heater",
        (core("  - at: E2\n", "  - at: E1\n"),)),
    "nothing tried without a call": (
        safety_case_missing.RULE, "No safety case tries that nothing calls", "expect:",
        (case("Nothing calls", "  - name: Heating calls"),)),
    "cut-out tried without heating": (
        safety_case_missing.RULE, "the cut-out of `hot-water` has tripped", "expect:",
        (case("Cut-out tripped while both call", "  - name: Cut-out tripped, only"),)),
    "isolation not tried on site": (
        safety_case_missing.RULE, "No safety case tries that `controls` is isolated", "expect:",
        (Edit(CONVERSION, "    then: {M1: shut, M2: shut, E1.burner: \"off\"}\n    safety: true\n"
                          "  - name: Immersion",
              "    then: {M1: shut, M2: shut, E1.burner: \"off\"}\n  - name: Immersion"),)),
    "earth on the grey core": (
        colour_misleads.RULE, "`W4.GY` looks like line and is earth", "GY: {from: X1:11",
        (core("GY: {made-safe: both ends in terminal connectors}",
              "GY: {from: X1:11, to: E1:E, does: earth}"),)),
    "earth on the grey core, sleeved": (
        colour_misleads.RULE, "`W4.GY` is earth and not green-and-yellow", "GY: {from: X1:11",
        (core("GY: {made-safe: both ends in terminal connectors}",
              "GY: {from: X1:11, to: E1:E, sleeve: GNYE, does: earth}"),)),
    "earth link in brown": (
        colour_misleads.RULE, "The link `earth-link` looks like line and is earth", "earth-link:",
        (core("X1:12, colour: GNYE, does: earth to", "X1:12, colour: BN, does: earth to"),)),
    "blue switched line without its sleeve": (
        colour_misleads.RULE, "`W5.BU` looks like neutral and is line", "BU: {from: F2:out",
        (core("to: X1:8, sleeve: BN,", "to: X1:8,"),)),
    "neutral of a valve on the line": (
        colour_misleads.RULE, "`W2.BU` looks like neutral and is line", "BU: {from: X1:1, to: M1:N",
        (core("BU: {from: X1:4, to: M1:N,", "BU: {from: X1:1, to: M1:N,"),)),
    "neutral of the whole strip made safe": (
        load_without_neutral.RULE, "`K1.electronics`, `M1.motor`, `M2.motor` and `E1.board` have",
        "BU: {made-safe: cut back}", LOST),
    "neutral of a valve made safe": (
        load_without_neutral.RULE, "`M2.motor` has no neutral", "BU: {made-safe: cut back}",
        (core("BU: {from: X1:4, to: M2:N, does: neutral}", "BU: {made-safe: cut back}"),)),
    "line on the receiver's neutral": (
        line_meets_neutral.RULE, "is joined to neutral", "short: {from: K1:heating-on",
        (link("short", "K1:heating-on", "K1:N"),)),
    "bridge round the cut-out": (
        cut_out_leaves_valve_powered.RULE, "still runs after the cut-out", "bridge: {from: F2:in",
        (link("bridge", "F2:in", "F2:out"),)),
}
"""What is broken: the rule, words of its message, how its first place begins, and the edits."""


FIRST = {
    "neutral link on the earth way": "neutral-link: {from: X1:3, to: X1:11",
    "end switches fed from in front of the isolator": "line-link: {from: Q1:supply-L",
    "valve with its neutral on earth": "BU: {from: X1:12, to: M2:N",
    "neutral of the other circuit": "BU: {from: Q2:load-N, to: M2:N",
    "orange with brown and switched live": "OG: {from: M1:switch-out, to: X1:6",
    "shared neutral lost": "BU: {from: X1:4, to: M1:N",
    "switch that opens the neutral alone": "BU: {from: Q1:load-N",
    "switched live on a data terminal": "BK: {from: X1:9, to: E1:data-1",
    "neutral on a data terminal": "GY: {from: X1:3, to: E1:data-2",
    "data on a way beside mains": "GY: {from: X1:10, to: E1:data-2",
    "switched live on green-and-yellow": "GNYE: {from: X1:9",
    "valve without earth": "GNYE: {made-safe",
    "receiver's earth parked on an empty way": "GNYE: {from: X1:10",
    "five conductors in a way for four": "earth-link: {from: X1:11, to: X1:12",
    "spare core not spoken of": "cores:",
    "factory link left in": "factory-link:",
    "motor line of a valve on the boiler's switched line": "short-cut:",
    "motor core not landed": "M1: {is: two-port-valve",
    "both calls on one way": "BK: {from: K1:heating-on, to: X1:7",
    "immersion heater connected, its cut-out bridged": "bridge:",
    "receiver on neutral twice": "BN: {from: X1:4, to: K1:L",
    "relay on its own break contact": "own-break:",
    "orange joined to brown": "latch:",
    "data lead left on the boiler": "left-lead:",
    "immersion cable left on its switch": "BN: {from: Q2:load-L, to: B1:common",
    "loss of something that is not there": "- loses:",
}
"""How the first place begins of what is broken in the other guards: the core that brings it."""
OTHERS: dict[str, tuple[Any, ...]] = {
    **{name: (rule, words, tuple(edits))
       for name, (rule, words, *edits) in test_electrical_guards.BREAKS.items()},
    **test_behaviour_guards.BREAKS}


@pytest.fixture(scope="module")
def flagship() -> JobSubject:
    return job_subject(edited())


@pytest.mark.parametrize("rule", ASKED, ids=lambda rule: rule.name)
def test_the_flagship_is_asked_and_clean(rule: Rule[Any], flagship: JobSubject) -> None:
    assert asked_of(rule, flagship) == (ASKED[rule], ())


@pytest.mark.parametrize("broken", BREAKS.values(), ids=BREAKS)
def test_a_broken_flagship_is_found_at_the_core_that_breaks_it(
    broken: tuple[Rule[Any], str, str, tuple[Edit, ...]],
) -> None:
    rule, words, begins, edits = broken
    _, findings = asked_of(rule, job_subject(edited(*edits)))
    told = [finding for finding in findings if words in finding.message]
    assert len(told) == 1, findings
    assert told[0].places[0].text.strip().startswith(begins)
    assert (told[0].rule, told[0].severity) == (rule.name, rule.severity)
    assert all(place.note for place in told[0].places[1:])


@pytest.mark.parametrize("name", FIRST)
def test_the_first_place_is_the_core_that_brings_it(name: str) -> None:
    rule, words, edits = OTHERS[name]
    _, findings = asked_of(rule, job_subject(edited(*edits)))
    finding = next(finding for finding in findings if words in finding.message)
    assert finding.places[0].text.strip().startswith(FIRST[name])


def test_a_blue_core_on_the_line_is_moved_and_not_sleeved() -> None:
    edits = BREAKS["neutral of a valve on the line"][3]
    (finding,) = asked_of(colour_misleads.RULE, job_subject(edited(*edits)))[1]
    assert finding.expected == "landed on a neutral way"
    assert "`M1:N` and the colour agree" in finding.hint


def test_a_supply_the_wrong_way_round_is_told_once_for_each_pole() -> None:
    job = job_subject(edited(*SUPPLY))
    for rule in (terminal_takes_other.RULE, colour_misleads.RULE):
        assert len(asked_of(rule, job)[1]) == 2, rule.name


def test_one_lost_neutral_is_one_finding_and_one_more_for_what_never_runs() -> None:
    job = job_subject(edited(*LOST))
    (finding,) = asked_of(load_without_neutral.RULE, job)[1]
    assert finding.hint == "land the neutral core"
    # The boiler's input lacks its line as well, because no valve opens.
    assert {f.message for f in asked_of(load_never_runs.RULE, job)[1]} == {
        "`E1.input` is wired at both ends and never runs.",
        "`K1.electronics`, `M1.motor`, `M2.motor` and `E1.board` are wired at both ends and never "
        "run."}


def test_a_healthy_motor_terminal_at_neutral_through_its_winding_is_no_fault() -> None:
    fitted = job_subject(edited()).fitted
    potentials = fitted.potentials
    assert potentials.at(potentials.soft_neutral, "M1:motor") & fitted.reachable
    assert not terminal_takes_other.RULE.judge(fitted).findings


def test_without_zones_the_factory_link_is_still_found() -> None:
    job = job_subject(edited(core(cut("zones:\n", "parts:\n"), ""), UNSET, FACTORY))
    for rule in (burner_fires_uncalled.RULE, burner_fires_against_shut_valves.RULE):
        asked, findings = asked_of(rule, job)
        assert asked
        assert [finding.places[0].text.strip()[:12] for finding in findings] == ["factory-link"]


def test_a_second_supply_that_comes_through_a_load_is_said_to() -> None:
    second = (
        part("Q3: {is: fused-connection-unit, at: kitchen, fuse: 3}"),
        core("supplies:\n", "supplies:\n  boiler: {says: boiler, line: Q3:supply-L, neutral: "
             "Q3:supply-N, earth: Q3:supply-E, isolated-by: {Q3.switch: \"off\"}}\n"),
        core("BN: {from: X1:1, to: E1:L,", "BN: {from: Q3:load-L, to: E1:L,"))
    _, findings = asked_of(second_supply_unannounced.RULE, job_subject(edited(*second)))
    (strip,) = (finding for finding in findings if "enclosure of `X1`" in finding.message)
    assert strip.found == ("`X1:1` from `boiler`, through a load or a closed part; "
                           "`X1:1` from `controls`")


def test_a_forgotten_part_is_to_be_written_under_goes() -> None:
    job = job_subject(edited(Edit(
        CONVERSION, "  B9: {fate: removed, how: Let the cylinder cool before the sensor is drawn "
                    "from its pocket.}\n", "")))
    (finding,) = asked_of(core_without_fate.RULE, job)[1]
    assert finding.places[0].text == "goes:"
    assert finding.places[1].note == "found"


def test_another_found_system_is_one_finding() -> None:
    text = (RECIPES / CONVERSION).read_text(encoding="utf-8")
    goes = text[text.index("goes:\n"):text.index("take-out:\n")]
    (finding,) = asked_of(core_without_fate.RULE, job_subject(edited(
        Edit(CONVERSION, goes, ""),
        *(core(f"  {old}:\n    is: ", f"  {old}0:\n    is: ") for old in ("W2", "W3", "W4", "W5")),
    )))[1]
    assert "does not speak of `closed-family-two-zones-electronic-cylinder`" in finding.message
    assert finding.places[0].text.startswith("found:")
    assert finding.severity is Severity.ERROR
