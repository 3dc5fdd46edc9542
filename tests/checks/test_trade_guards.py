"""No rule of the trade is too weak: healthy systems are clean, and speak once they are broken."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from generator.checks.catalogue import FOUND_RULES, SYSTEM_RULES
from generator.checks.rule import Rule
from generator.checks.rules import (
    off_output_bare,
    output_fed_backwards,
    permanent_line_switched,
    pump_misses_overrun,
    pump_runs_uncalled,
    satisfied_used_for_call,
    test_link_left_in,
    thermostat_as_isolator,
    valve_driven_both_ways,
    valve_needs_power_to_shut,
    valve_stays_open,
    valve_without_its_switch,
    volt_free_contact_fed_twice,
    volt_free_contact_unfed,
)
from generator.checks.subject import Subject, subject
from generator.findings import Finding
from generator.sitework.dead_checks import inspections
from tests.checks.edited import FITTED, RECIPES, Edit, edited_system, link, part
from tests.checks.guards import assert_said_whole

MIDDLE = "systems/mid-position-vented-cylinder.yaml"
WIRELESS = "systems/combination-boiler-wireless.yaml"
VOLT_FREE = "systems/combination-boiler-volt-free-wireless.yaml"

ASKED = {
    # Two settings isolate the controls, one the former immersion circuit.
    thermostat_as_isolator.RULE: 3,
    # Receiver and boiler, in the 64 states with both supplies on, fuse in and cut-outs healthy.
    permanent_line_switched.RULE: 2 * 64,
    test_link_left_in.RULE: 1,
    valve_without_its_switch.RULE: 2,
    # Supplies on, healthy, hot water called and satisfied: heating and the immersion's thermostat.
    satisfied_used_for_call.RULE: 4,
    output_fed_backwards.RULE: 7 * 256,
    # Of the 16 settled ones of these, heating is off in half, hot water off or satisfied in 3 of 4.
    valve_stays_open.RULE: 8 + 12,
    # No valve with two motor lines, no pump outside the boiler, no volt-free contact or pair, and
    # no output that is live idle.
    valve_driven_both_ways.RULE: 0,
    pump_misses_overrun.RULE: 0,
    pump_runs_uncalled.RULE: 0,
    volt_free_contact_fed_twice.RULE: 0,
    volt_free_contact_unfed.RULE: 0,
    off_output_bare.RULE: 0,
}
"""How often each rule is asked of the flagship's fitted system."""


def made(old: str, new: str) -> Edit:
    """Return the edit that makes a part of the fitted system another one."""
    return Edit(FITTED, f"{{is: {old},", f"{{is: {new},")


def unlanded(text: str) -> Edit:
    colour = text.partition(":")[0]
    return Edit(FITTED, text, f"{colour}: {{made-safe: in a connector}}")


OVERRUN = Edit(FITTED, "E1: {is: boiler-switched-line,", "E1: {is: boiler-pump-overrun,")
VOLT_FREE_RECEIVER = made("receiver-two-channel", "receiver-two-channel-volt-free")
CLOCK = (
    part("K2: {is: time-switch, at: airing cupboard}"), link("clock-line", "X1:2", "K2:L"),
    link("clock-neutral", "X1:4", "K2:N"), link("clock-link", "K2:L", "K2:common"))
PUMP = (
    part("G1: {is: circulating-pump, at: airing cupboard}"), link("pump-neutral", "X1:4", "G1:N"))
COMMONS = (
    link("heating-link", "K1:L", "K1:heating-common"),
    link("water-link", "K1:L", "K1:water-common"))

DRIVEN = (
    Edit(FITTED, "M1: {is: two-port-valve,", "M1: {is: motor-open-motor-close-valve,"),
    Edit(FITTED, "  W2:\n    is: valve-flex-5-core", "  W2:\n    is: flex-5-core-0.75"),
    Edit(FITTED, "to: M1:motor,", "to: M1:opening,"),
    Edit(FITTED, "GY: {from: X1:2, to: M1:switch-in, does: permanent line}",
         "GY: {made-safe: in a connector}"))
SWITCH = 'OG: {from: M1:switch-out, to: X1:9, does: "switched live, boiler"}'

BREAKS: dict[str, tuple[Rule[Subject], str, tuple[Edit, ...]]] = {
    "cylinder thermostat named as isolator": (
        thermostat_as_isolator.RULE, "isolated by `B1.water`, a thermostat",
        (Edit(FITTED, '{Q1.switch: "off", Q1.fuse: out}',
              '{Q1.switch: "off", B1.water: satisfied}'),)),
    "cut-out named as isolator": (
        thermostat_as_isolator.RULE, "isolated by `F2.state`, a cut-out",
        (Edit(FITTED, '{Q1.switch: "off", Q1.fuse: out}',
              '{Q1.switch: "off", F2.state: tripped}'),)),
    "boiler on the switched line": (
        permanent_line_switched.RULE, "`E1:L` takes permanent line and is fed over `M1.end-switch`",
        (Edit(FITTED, "BN: {from: X1:1, to: E1:L,", "BN: {from: X1:9, to: E1:L,"),)),
    "receiver behind a clock": (
        permanent_line_switched.RULE, "`K1:L` takes permanent line and is fed over `K2.on-contact`",
        (*CLOCK, Edit(FITTED, "BN: {from: X1:1, to: K1:L,", "BN: {from: K2:on, to: K1:L,"))),
    "factory link left in": (
        test_link_left_in.RULE, "so `E1` calls itself",
        (link("factory-link", "E1:control-out", "E1:control-in"),)),
    "permanent line bridged to the switched line": (
        test_link_left_in.RULE, "`E1:L` and `E1:control-in` are joined for good",
        (link("bridge", "X1:1", "X1:9"),)),
    "orange not landed": (
        valve_without_its_switch.RULE, "Nothing lands on `M1:switch-out`",
        (unlanded('OG: {from: M1:switch-out, to: X1:9, does: "switched live, boiler"}'),)),
    "neither core of the end switch landed": (
        valve_without_its_switch.RULE, "Nothing lands on `M2:switch-in` and `M2:switch-out`",
        (Edit(FITTED, "GY: {from: X1:2, to: M2:switch-in,", "GY: {made-safe: in a connector, "),
         Edit(FITTED, 'OG: {from: M2:switch-out, to: X1:9, does: "switched live, boiler"}',
              "OG: {made-safe: in a connector}"))),
    "satisfied taken for call": (
        satisfied_used_for_call.RULE, "`hot-water` is heated over `B1.satisfied-contact`",
        (Edit(FITTED, "{from: B1:call, to: F2:in,", "{from: B1:satisfied, to: F2:in,"),)),
    "orange joined to brown": (
        output_fed_backwards.RULE, "`K1:heating-on` is fed backwards",
        (link("latch", "X1:9", "X1:6"),)),
    "orange joined to brown, with a frost thermostat beside": (
        output_fed_backwards.RULE, "`K1:heating-on` is fed backwards",
        (part("B3: {is: frost-thermostat, at: garage}"),
         Edit(FITTED, "\n  hot-water:\n", "\n  frost: {valve: M1, called-by: {B3.air: freezing}}\n"
                                          "  hot-water:\n"),
         link("frost-line", "X1:2", "B3:L"), link("frost", "B3:frost", "X1:6"),
         link("latch", "X1:9", "X1:6"))),
    "cylinder thermostat on permanent line": (
        output_fed_backwards.RULE, "`K1:water-on` is fed backwards",
        (link("bridge", "X1:2", "X1:7"),)),
    "thermostat round the cut-out": (
        output_fed_backwards.RULE, "`F2:out` is fed backwards",
        (link("round", "B1:call", "X1:8"),)),
    "pump on the switched line, boiler with overrun": (
        pump_misses_overrun.RULE, "`G1` stands still while `E1` wants it to run on",
        (OVERRUN, *PUMP, link("pump-line", "X1:9", "G1:L"))),
    "boiler with overrun and no pump": (
        pump_misses_overrun.RULE, "No pump runs while `E1` wants it to run on", (OVERRUN,)),
    "pump on permanent line": (
        pump_runs_uncalled.RULE, "`G1` runs though no zone calls",
        (*PUMP, link("pump-line", "X1:1", "G1:L"))),
    "volt-free receiver without its links": (
        volt_free_contact_unfed.RULE, "`K1:heating-common` is fed by nothing",
        (VOLT_FREE_RECEIVER,)),
    "volt-free boiler with nothing on its pair": (
        volt_free_contact_unfed.RULE, "Nothing leads to `E1:call-1` and `E1:call-2`",
        (made("boiler-switched-line", "boiler-volt-free"),
         Edit(FITTED, 'BK: {from: X1:9, to: E1:control-in, does: "switched live, boiler"}',
              "BK: {made-safe: in a connector}"))),
    "contact between two supplies": (
        volt_free_contact_fed_twice.RULE, "`K1.heating-contact` is fed by `controls`",
        (VOLT_FREE_RECEIVER, *COMMONS, link("stray", "Q2:load-L", "K1:heating-on"))),
    "switched line on a volt-free pair": (
        volt_free_contact_fed_twice.RULE, "Mains reaches `E1:call-1`",
        (made("boiler-switched-line", "boiler-volt-free"),
         Edit(FITTED, "to: E1:control-in,", "to: E1:call-1,"))),
    "valve without a spring, closing not landed": (
        valve_stays_open.RULE, "`M1` stays open though `heating` does not call",
        (*DRIVEN, Edit(FITTED, SWITCH, "BK: {made-safe: in a connector}"))),
    "valve without a spring, closing on permanent line": (
        valve_driven_both_ways.RULE, "`M1:opening` and `M1:closing` are live together",
        (*DRIVEN, Edit(FITTED, SWITCH, "BK: {from: X1:2, to: M1:closing, does: line}"))),
    "off outputs of another receiver": (
        off_output_bare.RULE, "`K1:heating-off` is live while nothing calls, and bare",
        (made("receiver-two-channel", "receiver-two-channel-off-outputs"),)),
}
"""What is broken: the rule that must speak, words of its message, and the edits that break it."""


def speaking(wall_of: str, rules: Iterable[Rule[Subject]], *edits: Edit) -> list[Finding]:
    asked = subject(edited_system(wall_of, *edits))
    return [finding for rule in rules for finding in rule.judge(asked).findings]


@pytest.fixture(scope="module")
def flagship() -> Subject:
    return subject(edited_system(FITTED))


@pytest.mark.parametrize("rule", ASKED, ids=lambda rule: rule.name)
def test_the_flagship_is_asked_and_clean(rule: Rule[Subject], flagship: Subject) -> None:
    verdict = rule.judge(flagship)
    assert (verdict.asked, verdict.findings) == (ASKED[rule], ())


@pytest.mark.parametrize("case", BREAKS.values(), ids=BREAKS)
def test_a_broken_flagship_is_found(case: tuple[Rule[Subject], str, tuple[Edit, ...]]) -> None:
    rule, words, edits = case
    findings = speaking(FITTED, (rule,), *edits)
    assert_said_whole(rule, words, findings)


def test_every_rule_is_broken_by_some_edit() -> None:
    assert {rule for rule, _, _ in BREAKS.values()} == set(ASKED)


@pytest.mark.parametrize("path", sorted((RECIPES / "systems").glob("*.yaml")),
                         ids=lambda path: path.stem)
def test_a_system_is_clean_under_every_rule_that_it_is_asked(path: Path) -> None:
    wall = edited_system(f"systems/{path.name}")
    # What is found is as somebody left it; the rules that say what is wrong are not asked.
    rules = FOUND_RULES if wall.system.stands == "found" else SYSTEM_RULES
    solved = subject(wall)
    assert [f for rule in rules for f in rule.judge(solved).findings] == []


def test_a_mid_position_system_is_healthy_but_for_its_bare_off_output() -> None:
    # Orange and call share a way, grey has two feeds: common practice, no source.
    findings = speaking(MIDDLE, SYSTEM_RULES)
    assert [finding.message for finding in findings] == [
        "`K1:heating-off` is live while nothing calls, and bare."]


@pytest.mark.parametrize(("rule", "words", "old", "new"), [
    # M25 on a mid-position valve: the cylinder thermostat on permanent line.
    (output_fed_backwards.RULE, "`K1:water-on` is fed backwards",
     "\nlinks:\n", "\nlinks:\n  stray: {from: X1:1, to: X1:7, does: stray}\n"),
    # White fed from orange's way: the end switch feeds the motor that keeps it closed.
    (output_fed_backwards.RULE, "`B2:call` is fed backwards",
     "\nlinks:\n", "\nlinks:\n  latch: {from: X1:6, to: X1:9, does: stray}\n"),
    # M50: orange not connected.
    (valve_without_its_switch.RULE, "Nothing lands on `M1:orange`",
     'OG: {from: M1:orange, to: X1:9, does: "switched live, boiler"}',
     "OG: {made-safe: in a connector}"),
    (valve_needs_power_to_shut.RULE, "`M1.hot-water-way` is not shut when its motor",
     "stores: vented cylinder", "stores: unvented cylinder"),
    (pump_misses_overrun.RULE, "`G1` stands still while `E1` wants it to run on",
     "BN: {from: E1:pump-L, to: G1:L,", "BN: {from: E1:control-in, to: G1:L,"),
])
def test_a_mid_position_system_is_found_broken(
    rule: Rule[Subject], words: str, old: str, new: str
) -> None:
    findings = speaking(MIDDLE, (rule,), Edit(MIDDLE, old, new))
    assert any(words in finding.message for finding in findings), findings


DRIVEN_BOTH_WAYS = """\
zones:
  heating: {valve: M1, called-by: {B2.air: cold}}
parts:
  Q1: {is: fused-connection-unit, at: cupboard, fuse: 3}
  B2: {is: room-thermostat, at: hall}
  K2: {is: relay-change-over, at: cupboard}
  X1: {is: terminal-strip-12, at: cupboard}
  M1: {is: motor-open-motor-close-valve, at: cupboard}
links:
  line: {from: Q1:load-L, to: X1:1, does: permanent line}
  neutral: {from: Q1:load-N, to: X1:3, colour: BU, does: neutral}
  earth: {from: Q1:load-E, to: M1:E, colour: GNYE, does: earth}
  thermostat-line: {from: X1:1, to: B2:L, does: permanent line}
  call: {from: B2:call, to: K2:coil, does: "switched live, room calls"}
  coil-neutral: {from: X1:3, to: K2:N, colour: BU, does: neutral}
  relay-line: {from: X1:1, to: K2:common, does: permanent line}
  opening: {from: K2:make, to: M1:opening, does: winds it open}
  closing: {from: K2:break, to: M1:closing, does: winds it shut}
  valve-neutral: {from: X1:3, to: M1:N, colour: BU, does: neutral}
"""
"""Healthy: the relay's two sides wind the valve open and shut."""
SUPPLY = """\
kind: system
name: a bench
stands: standard
about: a valve without a spring
supplies:
  controls: {says: controls, line: Q1:supply-L, neutral: Q1:supply-N, earth: Q1:supply-E,
    isolated-by: {Q1.switch: "off", Q1.fuse: out}}
"""


def test_a_healthy_valve_that_motors_drive_both_ways_is_clean_under_every_rule() -> None:
    # A relay that drops out a tenth of a second after the call is no valve driven uncalled.
    text = (RECIPES / WIRELESS).read_text(encoding="utf-8")
    wall = edited_system(WIRELESS, Edit(WIRELESS, text, SUPPLY + DRIVEN_BOTH_WAYS))
    assert [f for rule in SYSTEM_RULES for f in rule.judge(subject(wall)).findings] == []


def test_what_is_capped_is_looked_at_before_the_cover_goes_on() -> None:
    looked = inspections(subject(edited_system(WIRELESS)), {"K1"})
    assert "-K1:off carries no core and is capped; it may be live later." in looked[0].looks


def test_a_white_core_fed_backwards_for_some_seconds_is_no_fault() -> None:
    on = subject(edited_system(MIDDLE))
    potentials = on.potentials
    open_room = on.reachable & ~potentials.closed(
        next(c for c in on.circuit.contacts if c.name == "B2.call-contact"))
    fed = potentials.at(potentials.line, "B2:call") & open_room
    assert fed
    assert not fed & on.settled


def test_switched_line_on_both_terminals_of_a_boiler_is_no_test_link() -> None:
    edit = Edit(FITTED, "BN: {from: X1:1, to: E1:L,", "BN: {from: X1:9, to: E1:L,")
    findings = speaking(FITTED, SYSTEM_RULES, edit)
    assert [finding.rule for finding in findings] == ["permanent-line-switched"]


def test_a_link_left_in_is_named_before_the_burner_that_it_fires() -> None:
    left_in = link("factory-link", "E1:control-out", "E1:control-in")
    findings = speaking(FITTED, SYSTEM_RULES, left_in)
    assert [finding.rule for finding in findings] == [
        "test-link-left-in", "burner-fires-against-shut-valves", "burner-fires-uncalled"]
    assert len({finding.places[0] for finding in findings}) == 1


def test_the_link_to_a_volt_free_contact_is_right_for_mains_and_wrong_for_a_pair() -> None:
    # Common practice, no source: link from L to common for mains, none for volt-free terminals.
    without = Edit(WIRELESS, "  contact-link: {from: K1:L, to: K1:common,",
                   "  contact-link: {from: K1:L, to: E1:control-out,")
    assert speaking(WIRELESS, (volt_free_contact_unfed.RULE,), without)
    stray = Edit(VOLT_FREE, "cables:\n", "links:\n  stray: {from: K1:L, to: K1:common, does: stray}"
                                         "\ncables:\n")
    assert speaking(VOLT_FREE, (volt_free_contact_fed_twice.RULE,), stray)
