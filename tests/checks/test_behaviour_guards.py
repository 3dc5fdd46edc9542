"""No rule on behaviour is too weak: the flagship is clean, and speaks once it is broken."""

from __future__ import annotations

from typing import Any

import pytest

from generator.checks.rule import Rule
from generator.checks.rules import (
    behaviour_unlike_expected,
    burner_fires_against_shut_valves,
    burner_fires_uncalled,
    cable_still_on_old_circuit,
    call_does_nothing,
    circuit_remembers,
    core_without_fate,
    cut_out_missing,
    cut_out_resets_itself,
    ends_by_chance,
    heat_source_without_cut_out,
    inside_not_known,
    kept_cable_too_short,
    load_never_runs,
    never_settles,
    setting_up_leaves_cold,
    supply_left_unsaid,
    valve_needs_power_to_shut,
    zone_opened_by_other_call,
)
from generator.checks.subject import JobSubject, job_subject
from tests.checks.edited import CONVERSION, FITTED, Edit, edited, link, part
from tests.checks.guards import asked_of, assert_said_whole

STATES, SETTINGS = 2**11, 2**9
"""Nine switches and two valves; every state can come about, and every setting settles once."""

ASKED = {
    # Heating off, and not both hot water called and the cylinder cold.
    burner_fires_uncalled.RULE: SETTINGS * 1 // 2 * 3 // 4,
    burner_fires_against_shut_valves.RULE: STATES // 4,
    # Two supplies, the fuse and two cut-outs leave 4 switches: 8 with heating, 4 with hot water.
    call_does_nothing.RULE: 8 + 4,
    zone_opened_by_other_call.RULE: STATES // 2 + STATES * 3 // 4,
    # The cylinder's and the one in the immersion heater's head.
    cut_out_resets_itself.RULE: 2,
    cut_out_missing.RULE: 1,
    # The immersion heater has no supply and never runs.
    heat_source_without_cut_out.RULE: 0,
    # All settings but those with switch, fuse, call, cold cylinder and healthy cut-out.
    valve_needs_power_to_shut.RULE: SETTINGS - SETTINGS // 2**5,
    # Receiver, two motors, the boiler's board and its control input.
    load_never_runs.RULE: 5,
    never_settles.RULE: STATES - SETTINGS,
    ends_by_chance.RULE: STATES - SETTINGS,
    circuit_remembers.RULE: 2 * SETTINGS,
    # No closed part is left; the boiler has data terminals.
    inside_not_known.RULE: 1,
    # Nine parts, eight cables, one link; 3 + 5 + 5 + 5 + 3 cores of the cables that stay.
    core_without_fate.RULE: 9 + 8 + 1 + 21,
    cable_still_on_old_circuit.RULE: 5,
    kept_cable_too_short.RULE: 5,
    behaviour_unlike_expected.RULE: 28,
    # The immersion heater, which is also said; what else runs is decided inside the closed box.
    supply_left_unsaid.RULE: 2,
    # Two zones after each of five steps; the receiver.
    setting_up_leaves_cold.RULE: 2 * 5 + 1,
}
"""How often each rule is asked of the flagship."""

HEATER = (link("heater-line", "Q2:load-L", "E2:L"), link("heater-neutral", "Q2:load-N", "E2:N"))
IMMERSION, VALVE = "parts/immersion-heater.yaml", "parts/two-port-valve.yaml"
LOCKED = (
    part("K2: {is: relay-change-over, at: airing cupboard}"),
    part("K3: {is: relay-change-over, at: airing cupboard}"),
    link("line-2", "X1:1", "K2:common"), link("neutral-2", "X1:3", "K2:N"),
    link("line-3", "X1:2", "K3:common"), link("neutral-3", "X1:4", "K3:N"),
    link("lock-2", "K3:break", "K2:coil"), link("lock-3", "K2:break", "K3:coil"),
)
BUZZER = (
    part("K2: {is: relay-change-over, at: airing cupboard}"),
    link("line-2", "X1:1", "K2:common"), link("neutral-2", "X1:3", "K2:N"),
    link("own-break", "K2:break", "K2:coil"),
)
BREAKS: dict[str, tuple[Rule[Any], str, tuple[Edit, ...]]] = {
    "factory link left in": (
        burner_fires_uncalled.RULE, "`E1.burner` fires though no zone calls",
        (link("factory-link", "E1:control-out", "E1:control-in"),)),
    "motor line of a valve on the boiler's switched line": (
        burner_fires_against_shut_valves.RULE, "fires while every zone valve is shut",
        (link("short-cut", "X1:6", "X1:9"),)),
    "greys fed from the heating output": (
        call_does_nothing.RULE, "`hot-water` calls, its valve `M2` is open, and nothing fires",
        (Edit(FITTED, "line-link: {from: X1:1, to: X1:2,", "line-link: {from: X1:5, to: X1:2,"),)),
    "motor core not landed": (
        call_does_nothing.RULE, "`heating` calls and its valve `M1` stays shut",
        (Edit(FITTED, 'BN: {from: X1:6, to: M1:motor, does: "switched live, heating valve"}',
              "BN: {made-safe: in a connector}"),)),
    "both calls on one way": (
        zone_opened_by_other_call.RULE, "`M2` runs though `hot-water` does not call",
        (Edit(FITTED, "BK: {from: K1:heating-on, to: X1:5,",
              "BK: {from: K1:heating-on, to: X1:7,"),)),
    "cut-out that resets by itself": (
        cut_out_resets_itself.RULE, "`F2.state` resets by itself",
        (Edit(FITTED, "F2: {is: overheat-cut-out,",
              "F2: {is: overheat-cut-out-self-resetting,"),)),
    "immersion heater's cut-out resets by itself": (
        cut_out_resets_itself.RULE, "`E2.cut-out` resets by itself",
        (Edit(IMMERSION, "resets: by hand", "resets: by itself"),)),
    "cut-out that does not say how it resets": (
        cut_out_resets_itself.RULE, "`F2.state` does not say how it resets",
        (Edit("parts/overheat-cut-out.yaml", "    resets: by hand\n", ""),)),
    "no cut-out named": (
        cut_out_missing.RULE, "`hot-water` has no cut-out",
        (Edit(FITTED, "    cut-out: F2\n", ""),)),
    "thermostat named as cut-out": (
        cut_out_missing.RULE, "`B1`, named as the cut-out of `hot-water`, is none",
        (Edit(FITTED, "    cut-out: F2\n", "    cut-out: B1\n"),)),
    "immersion heater connected, its cut-out bridged": (
        heat_source_without_cut_out.RULE, "`E2.element` runs though its own cut-out has tripped",
        (*HEATER, link("bridge", "E2:after-thermostat", "E2:after-cut-out"))),
    "immersion heater connected, no cut-out in its head": (
        heat_source_without_cut_out.RULE, "`E2.element` has no cut-out of its own",
        (*HEATER,
         Edit(IMMERSION, "kind: cut-out\n    rest: healthy\n    worked: tripped\n"
                         "    resets: by hand\n",
              "kind: temperature\n    rest: healthy\n    worked: tripped\n"))),
    "valve that rests open": (
        valve_needs_power_to_shut.RULE, "`M2` is not shut when its motor has no power",
        (Edit(VALVE, "rest: shut\n    worked: open", "rest: open\n    worked: shut"),)),
    "receiver on neutral twice": (
        load_never_runs.RULE, "`K1.electronics` is wired at both ends and never runs",
        (Edit(FITTED, "BN: {from: X1:1, to: K1:L,", "BN: {from: X1:4, to: K1:L,"),)),
    "relay on its own break contact": (
        never_settles.RULE, "`K2.contact` never comes to rest", BUZZER),
    "relays that lock each other out": (
        ends_by_chance.RULE, "by which device is quicker", LOCKED),
    "orange joined to brown": (
        circuit_remembers.RULE, "`M1.valve` holds itself",
        (link("latch", "X1:9", "X1:6"),)),
    "data lead left on the boiler": (
        inside_not_known.RULE, "Whether `E1.burner` fires is decided over `left-lead`",
        (part("K8: {is: data-programmer, at: hall}"),
         link("left-lead", "E1:data-1", "K8:data-1"))),
    "boiler's switched line from a closed box": (
        inside_not_known.RULE, "What `from-the-box` carries is decided inside a closed part",
        (part("K9: {is: closed-wiring-box, at: airing cupboard}"),
         link("box-line", "X1:2", "K9:L"), link("box-neutral", "X1:4", "K9:N"),
         link("from-the-box", "K9:valve1-open", "X1:9"))),
    "sensor forgotten": (
        core_without_fate.RULE, "Nothing is said of what becomes of `B9`",
        (Edit(CONVERSION, "  B9: {fate: removed, how: Let the cylinder cool before the sensor is "
                          "drawn from its pocket.}\n", ""),)),
    "factory link forgotten": (
        core_without_fate.RULE, "Nothing is said of what becomes of `factory-link`",
        (Edit(CONVERSION, "  factory-link: {fate: removed, how: Take it out of the control "
                          "terminals and hand it to the owner.}\n", ""),)),
    "spare core of the boiler cable forgotten": (
        core_without_fate.RULE, "Nothing is said of what becomes of the core `W4.GY`",
        (Edit(FITTED, "      GY: {made-safe: both ends in terminal connectors}\n", ""),)),
    "valve said to go, and fitted": (
        core_without_fate.RULE, "`M1` is said to go, and is still there",
        (Edit(CONVERSION, "goes:\n", "goes:\n  M1: {fate: removed, how: Off.}\n"),)),
    "other cable under the same designation": (
        core_without_fate.RULE, "`W5` is one thing before and another after",
        (Edit(FITTED, "is: flex-3-core-1.5-heat", "is: flex-3-core-0.75"),)),
    "immersion cable left on its switch": (
        cable_still_on_old_circuit.RULE, "The cable `W5` is taken over and still on `immersion`",
        (Edit(FITTED, "BN: {from: X1:7, to: B1:common,",
              "BN: {from: Q2:load-L, to: B1:common,"),)),
    "immersion line bridged to the cable's new way": (
        cable_still_on_old_circuit.RULE, "The cable `W5` is taken over and still on `immersion`",
        (link("left-feed", "Q2:load-L", "X1:7"),)),
    "cable that would have to grow": (
        kept_cable_too_short.RULE, "`W5` is kept and too short by 1 m",
        (Edit(FITTED, "is: flex-3-core-1.5-heat\n    length: 2",
              "is: flex-3-core-1.5-heat\n    length: 3"),)),
    "case that the wiring does not keep": (
        behaviour_unlike_expected.RULE, "`M2.valve` is not open in the case “Nothing calls”",
        (Edit(CONVERSION, 'when: {K1.heating: "off", K1.hot-water: "off"}\n    then: {M1: shut, '
                          "M2: shut,",
              'when: {K1.heating: "off", K1.hot-water: "off"}\n    then: {M1: shut, M2: open,'),)),
    "heat source that does not do as said": (
        behaviour_unlike_expected.RULE, "`E1.burner` is not off in the case “Nothing calls”",
        (link("factory-link", "E1:control-out", "E1:control-in"),)),
    "load that does not do as said": (
        behaviour_unlike_expected.RULE,
        "`E2.element` is not off in the case “Immersion heater without supply”", HEATER),
    "case that no state answers to": (
        behaviour_unlike_expected.RULE, "The case “Heating calls” never occurs", BUZZER),
    "loss of the immersion heater not told": (
        supply_left_unsaid.RULE, "`E2.element` ran before and never runs again",
        (Edit(CONVERSION, "  - loses: [E2.element]\n    says:", "  - says:"),)),
    "loss of something that is not there": (
        supply_left_unsaid.RULE, "There is no load `E2.elemnt` to lose",
        (Edit(CONVERSION, "loses: [E2.element]", "loses: [E2.element, E2.elemnt]"),)),
    "loss of what still runs": (
        supply_left_unsaid.RULE, "`E2.element` is said to be lost, and runs", HEATER),
    "hot water that nobody can call for between two steps": (
        setting_up_leaves_cold.RULE, "After step 1 of setting up nothing says how `hot-water`",
        (Edit(CONVERSION, "{heating: by its boost button, hot-water: \"by its boost button, once "
                          "the tests of the cut-out are passed\"}",
              "{heating: by its boost button}"),)),
}
"""What is broken: the rule that must speak, words of its message, and the edits that break it."""


@pytest.fixture(scope="module")
def flagship() -> JobSubject:
    return job_subject(edited())


@pytest.mark.parametrize("rule", ASKED, ids=lambda rule: rule.name)
def test_the_flagship_is_asked_and_clean(rule: Rule[Any], flagship: JobSubject) -> None:
    assert asked_of(rule, flagship) == (ASKED[rule], ())


@pytest.mark.parametrize("case", BREAKS.values(), ids=BREAKS)
def test_a_broken_flagship_is_found(case: tuple[Rule[Any], str, tuple[Edit, ...]]) -> None:
    rule, words, edits = case
    asked, findings = asked_of(rule, job_subject(edited(*edits)))
    assert asked > 0
    assert_said_whole(rule, words, findings)


def test_every_rule_is_broken_by_some_edit() -> None:
    assert {rule for rule, _, _ in BREAKS.values()} == set(ASKED)


def told(name: str) -> str:
    """Return what was found where the flagship is broken in the way `name`."""
    rule, words, edits = BREAKS[name]
    _, findings = asked_of(rule, job_subject(edited(*edits)))
    return next(finding.found for finding in findings if words in finding.message)


def test_a_circuit_that_never_settles_is_told_as_a_story() -> None:
    story, again = told("relay on its own break contact").split("; then ")
    assert story == "`Q1.fuse` fitted, `Q1.switch` on"
    assert again == "`K2.contact` pulled in, `K2.contact` dropped out, and again"


def test_a_race_is_told_with_both_its_ends() -> None:
    story, ends = told("relays that lock each other out").split("; then either ")
    assert story == "`Q1.fuse` fitted, `Q1.switch` on"
    assert sorted(ends.split("; or ")) == ["`K2.contact` pulled in", "`K3.contact` pulled in"]


def test_a_latch_is_told_with_the_way_into_both_positions() -> None:
    opened, shut = told("orange joined to brown").split("; ")
    assert opened.startswith("open after ")
    # The call comes, the valve opens, the call goes: it stays open.
    steps = opened.removeprefix("open after ").split(", ")
    assert steps[-1] == "`K1.heating` off"
    assert "`M1.valve` open" in steps
    assert shut == "shut after `Q1.fuse` fitted, `Q1.switch` on"


def test_the_first_place_is_the_core_that_feeds_it() -> None:
    rule, _, edits = BREAKS["factory link left in"]
    _, findings = asked_of(rule, job_subject(edited(*edits)))
    assert findings[0].places[0].text.strip().startswith("factory-link:")
    assert findings[0].path[-2:] == ("E1:control-out", "E1:control-in")
