"""No rule on the electrics is too weak: the flagship is clean, and speaks once it is broken."""

from __future__ import annotations

import pytest

from generator.checks.rule import Rule
from generator.checks.rules import (
    cable_softens,
    core_left_loose,
    earth_core_carries_line,
    earth_core_leads_nowhere,
    earth_missing,
    extra_low_voltage_meets_mains,
    live_through_load,
    load_without_neutral,
    loads_in_series,
    neutral_borrowed,
    neutral_meets_earth,
    neutral_switched,
    output_fed_backwards,
    rating_exceeded,
    second_supply_unannounced,
    stays_live_isolated,
    terminal_overfilled,
)
from generator.checks.subject import Subject, subject
from tests.checks.edited import FITTED, Edit, edited

ASKED = {
    neutral_meets_earth.RULE: 2 * 2048,
    stays_live_isolated.RULE: 1536,
    # Only the boiler's own data terminals are left, and nothing lands on them.
    extra_low_voltage_meets_mains.RULE: 2,
    earth_core_carries_line.RULE: 8,
    # Connection unit, thermostat, cut-out, two valves, boiler, former immersion switch.
    earth_missing.RULE: 7,
    # Six cables, the link between the two earth ways, the one under the common cover.
    earth_core_leads_nowhere.RULE: 8,
    # Both supplies on and the fuse in: 256 of 2048.
    live_through_load.RULE: 256,
    # Receiver, two valve motors, boiler board, boiler input; the immersion heater has no supply.
    load_without_neutral.RULE: 5,
    loads_in_series.RULE: 25,
    # The neutral poles of the two double-pole switches.
    neutral_switched.RULE: 2,
    neutral_borrowed.RULE: 5,
    second_supply_unannounced.RULE: 8,
    # Receiver 2, thermostat 2, cut-out 1, immersion heater's head 2; each open in half of 512.
    output_fed_backwards.RULE: 7 * 256,
    # 28 contacts and cores that carry a load, 14 cores that are live behind the fuse.
    rating_exceeded.RULE: 28 + 14,
    core_left_loose.RULE: 26,
    terminal_overfilled.RULE: 45,
    cable_softens.RULE: 1,
}
"""How often each rule is asked of the flagship's fitted system."""

UNIT, VALVE = "parts/fused-connection-unit.yaml", "parts/two-port-valve.yaml"
BREAKS = {
    "boiler neutral on the hot-water motor way": (
        loads_in_series.RULE, "stands between line and neutral, with a load on either side",
        Edit(FITTED, "BU: {from: X1:3, to: E1:N", "BU: {from: X1:8, to: E1:N"),
    ),
    "neutral link on the earth way": (
        neutral_meets_earth.RULE, "The neutral of `controls` is joined to earth",
        Edit(FITTED, "neutral-link: {from: X1:3, to: X1:4,",
             "neutral-link: {from: X1:3, to: X1:11,"),
    ),
    "end switches fed from in front of the isolator": (
        stays_live_isolated.RULE, "is still live from `controls`",
        Edit(FITTED, "line-link: {from: X1:1,", "line-link: {from: Q1:supply-L,"),
    ),
    "isolation that names the wrong position of the switch": (
        stays_live_isolated.RULE, "isolated by `Q1.switch on`",
        Edit(FITTED, 'isolated-by: {Q1.switch: "off", Q1.fuse: out}',
             'isolated-by: {Q1.switch: "on"}'),
    ),
    "lamp across the pole of the isolator": (
        stays_live_isolated.RULE, "`X1:1` is still live through a load from `controls`",
        Edit(UNIT, "joints:", "loads:\n  lamp: {kind: electronics, between: [supply-L, load-L], "
                              "watts: 1}\njoints:"),
    ),
    "immersion line in the thermostat's cable": (
        second_supply_unannounced.RULE, "`X1` holds terminals of `controls` and `immersion`",
        Edit(FITTED, "BN: {from: X1:7, to: B1:common,", "BN: {from: Q2:load-L, to: B1:common,"),
    ),
    "valve without neutral": (
        load_without_neutral.RULE, "`M1.motor` has no neutral at `M1:N`",
        Edit(FITTED, "BU: {from: X1:4, to: M1:N, does: neutral}", "BU: {made-safe: cut back}"),
    ),
    "valve with its neutral on earth": (
        load_without_neutral.RULE, "`M2.motor` has no neutral at `M2:N`",
        Edit(FITTED, "BU: {from: X1:4, to: M2:N,", "BU: {from: X1:12, to: M2:N,"),
    ),
    "neutral of the other circuit": (
        neutral_borrowed.RULE, "the line of `controls` and the neutral of `immersion`",
        Edit(FITTED, "BU: {from: X1:4, to: M2:N,", "BU: {from: Q2:load-N, to: M2:N,"),
    ),
    "orange with brown and switched live": (
        output_fed_backwards.RULE, "`K1:heating-on` is fed backwards",
        Edit(FITTED, "OG: {from: M1:switch-out, to: X1:9,", "OG: {from: M1:switch-out, to: X1:6,"),
    ),
    "thermostat on permanent line": (
        output_fed_backwards.RULE, "`K1:water-on` is fed backwards",
        Edit(FITTED, "room-thermostat-link: {from: X1:5, to: X1:6,",
             "room-thermostat-link: {from: X1:1, to: X1:7,"),
    ),
    "shared neutral lost": (
        live_through_load.RULE, "is live through `M1.motor` though nothing runs",
        Edit(FITTED, "neutral-link: {from: X1:3, to: X1:4,",
             "neutral-link: {from: X1:3, to: X1:10,"),
    ),
    "switch that opens the neutral alone": (
        neutral_switched.RULE, "`Q1.neutral-pole` opens the neutral of `controls` alone",
        Edit(UNIT, 'between: [fused-L, load-L]\n    closed-while: {switch: "on"}',
             "between: [fused-L, load-L]\n    closed-while: {fuse: fitted}"),
    ),
    "fuse in the neutral": (
        neutral_switched.RULE, "The fuse `Q1.neutral-pole` opens the neutral of `controls`",
        Edit(UNIT, 'between: [supply-N, load-N]\n    closed-while: {switch: "on"}',
             "between: [supply-N, load-N]\n    closed-while: {fuse: fitted}"),
    ),
    "switched live on a data terminal": (
        extra_low_voltage_meets_mains.RULE,
        "Mains reaches the extra-low-voltage terminal `E1:data-1`",
        Edit(FITTED, "BK: {from: X1:9, to: E1:control-in,", "BK: {from: X1:9, to: E1:data-1,"),
    ),
    "neutral on a data terminal": (
        extra_low_voltage_meets_mains.RULE,
        "Mains reaches the extra-low-voltage terminal `E1:data-2`",
        Edit(FITTED, "GY: {made-safe: both ends in terminal connectors}",
             "GY: {from: X1:3, to: E1:data-2, does: a}"),
    ),
    "data on a way beside mains": (
        extra_low_voltage_meets_mains.RULE,
        "`X1:10`, extra-low voltage, stands next to `X1:9`, mains",
        Edit(FITTED, "GY: {made-safe: both ends in terminal connectors}",
             "GY: {from: X1:10, to: E1:data-2, does: a}"),
    ),
    "data in the boiler's flex": (
        extra_low_voltage_meets_mains.RULE, "`W4.GY`, extra-low voltage, shares a cable with",
        Edit(FITTED, "GY: {made-safe: both ends in terminal connectors}",
             "GY: {from: X1:10, to: E1:data-2, does: a}"),
    ),
    "data lead as a mains cable": (
        extra_low_voltage_meets_mains.RULE, "`W1.BN` is a core of a signal cable and carries mains",
        Edit("parts/flex-3-core-0.75.yaml", "amps: 6", "amps: 6\nsignal: true"),
    ),
    "switched live on green-and-yellow": (
        earth_core_carries_line.RULE, "The green-and-yellow core `W4.GNYE` carries a line",
        Edit(FITTED, "GNYE: {from: X1:11, to: E1:E, does: earth}",
             "GNYE: {from: X1:9, to: E1:control-in, sleeve: BN, does: a}"),
    ),
    "neutral on green-and-yellow": (
        earth_core_carries_line.RULE, "The green-and-yellow core `W4.GNYE` carries a neutral",
        Edit(FITTED, "GNYE: {from: X1:11, to: E1:E, does: earth}",
             "GNYE: {from: X1:3, to: E1:N, sleeve: BU, does: a}"),
    ),
    "valve without earth": (
        earth_missing.RULE, "The metal of `M1` has no earth",
        Edit(FITTED, "GNYE: {from: X1:12, to: M1:E, does: earth}", "GNYE: {made-safe: cut back}"),
    ),
    "receiver's earth parked on an empty way": (
        earth_core_leads_nowhere.RULE,
        "The green-and-yellow core `W6.GNYE` leads to no protective conductor",
        Edit(FITTED, "GNYE: {from: X1:11, to: K1:park-E,", "GNYE: {from: X1:10, to: K1:park-E,"),
    ),
    "fuse too large for the flex": (
        rating_exceeded.RULE, "The fuse of 13 A in `Q1` stands before `W1.BN`, which carries 6 A",
        Edit(FITTED, "called: fused connection unit, fuse: 3}",
             "called: fused connection unit, fuse: 13}"),
    ),
    "motors too large for the receiver's contact": (
        rating_exceeded.RULE, "`K1.heating-contact` carries 1.3 A inductive and is made for 1 A",
        Edit(VALVE, "watts: 6", "watts: 300"),
    ),
    "boiler too large for the fuse": (
        rating_exceeded.RULE, "`Q1.fuse-link` carries 6 A and is made for 3 A",
        Edit("parts/boiler-switched-line.yaml", "watts: 120", "watts: 1360"),
    ),
    "boiler of uncertain power, too large for the fuse at its most": (
        rating_exceeded.RULE, "`Q1.fuse-link` carries 6 A and is made for 3 A",
        Edit("parts/boiler-switched-line.yaml", "watts: 120", "watts: 120\n    up-to: 1360"),
    ),
    "five conductors in a way for four": (
        terminal_overfilled.RULE, "`X1:12` holds 5 conductors and takes 4",
        Edit(FITTED, "GNYE: {from: X1:11, to: K1:park-E,", "GNYE: {from: X1:12, to: K1:park-E,"),
    ),
    "spare core not spoken of": (
        core_left_loose.RULE, "Nothing is said of `GY` in the cable `W4`",
        Edit(FITTED, "      GY: {made-safe: both ends in terminal connectors}\n", ""),
    ),
    "ordinary flex at the cylinder": (
        cable_softens.RULE, "The cable `W5` is not heat-resisting",
        Edit(FITTED, "is: flex-3-core-1.5-heat", "is: flex-3-core-0.75"),
    ),
}
"""What is broken: the rule that must speak, words of its message, and the edits that break it."""


def fitted(*edits: Edit) -> Subject:
    return subject(edited(*edits).fitted)


@pytest.fixture(scope="module")
def flagship() -> Subject:
    return fitted()


@pytest.mark.parametrize("rule", ASKED, ids=lambda rule: rule.name)
def test_the_flagship_is_asked_and_clean(rule: Rule[Subject], flagship: Subject) -> None:
    verdict = rule.judge(flagship)
    assert verdict.findings == ()
    assert verdict.asked == ASKED[rule]


@pytest.mark.parametrize("case", BREAKS.values(), ids=BREAKS)
def test_a_broken_flagship_is_found(case: tuple) -> None:
    rule, words, *edits = case
    findings = rule.judge(fitted(*edits)).findings
    assert any(words in finding.message for finding in findings), findings
    assert all(finding.rule == rule.name and finding.severity is rule.severity
               for finding in findings)


def test_every_rule_is_broken_by_some_edit() -> None:
    assert {case[0] for case in BREAKS.values()} == set(ASKED)


def test_a_lost_earth_is_told_at_the_metal_and_not_again_at_the_cores() -> None:
    lost = fitted(Edit(FITTED, "GNYE: {from: Q1:load-E, to: X1:11, does: earth}",
                       "GNYE: {made-safe: cut back}"))
    assert earth_missing.RULE.judge(lost).findings
    verdict = earth_core_leads_nowhere.RULE.judge(lost)
    assert (verdict.asked, verdict.findings) == (7, ())
