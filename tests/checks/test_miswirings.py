"""Miswirings met in the trade, each made on the flagship: what it does, and which rules speak.

Check values: the rows M01 to M45 that apply to a two-zone system, common practice, no source;
expected symptom from an independent nodal simulation. The cases that a row does not speak of stand
as in a healthy system, or follow from the row.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from generator.checks.catalogue import JOB_RULES, RULES
from generator.checks.rule import Rule
from generator.checks.subject import JobSubject, Subject, job_subject
from generator.circuit.potentials import Standing
from generator.circuit.tables import states
from generator.findings import Unreadable
from tests.checks.edited import FITTED, Edit, edited, link, part

COLD, HOT = {"B1.water": "cold"}, {"B1.water": "satisfied"}
NO_CALL = {"K1.heating": "off", "K1.hot-water": "off"}
HEATING = {"K1.heating": "call", "K1.hot-water": "off"}
WATER = {"K1.heating": "off", "K1.hot-water": "call"}
BOTH = {"K1.heating": "call", "K1.hot-water": "call"}
TRIPPED = {"F2.state": "tripped"}
CASES = {
    "idle": NO_CALL,
    "water": WATER | COLD,
    "water satisfied": WATER | HOT,
    "heating": HEATING,
    "both": BOTH | COLD,
    "water, tripped": WATER | COLD | TRIPPED,
    "both, tripped": BOTH | COLD | TRIPPED,
    "cold, no call": NO_CALL | COLD,
    "controls isolated": NO_CALL | {"Q1.switch": "off"},
    "frost": NO_CALL | {"B3.air": "freezing"},
}
HEALTHY = {
    "idle": "H0C0B0", "water": "H1C0B1", "water satisfied": "H0C0B0", "heating": "H0C1B1",
    "both": "H1C1B1", "water, tripped": "H0C0B0", "both, tripped": "H0C1B1",
    "cold, no call": "H0C0B0",
}
"""Hot-water valve and heating valve open (1) or shut (0), burner on (1) or off (0)."""


@dataclass(frozen=True)
class Miswiring:
    """A row: edits of the fitted system, what it does in which case, and who must speak.

    `does` holds what a settled circuit may stand at; `reads` what a terminal is in a case.
    """

    edits: tuple[Edit, ...]
    does: dict[str, set[str]]
    speaks: set[str]
    reads: dict[tuple[str, str], Standing] = field(default_factory=dict)


def changed(**cases: str) -> dict[str, set[str]]:
    """Return what a healthy system does, but for these cases; `_` stands for a space."""
    differ = {name.replace("__", ", ").replace("_", " "): does for name, does in cases.items()}
    assert set(differ) <= set(CASES)
    return {name: {does} for name, does in (HEALTHY | differ).items()}


def core(old: str, new: str) -> Edit:
    return Edit(FITTED, old, new)


def unlanded(core_text: str) -> Edit:
    """Return the edit that takes a core, written as in the file, out at both ends."""
    colour = core_text.partition(":")[0]
    return Edit(FITTED, core_text, f"{colour}: {{made-safe: in a connector}}")


ROWS = {
    "M01 both greys fed from the heating output": Miswiring(
        (core("line-link: {from: X1:1, to: X1:2,", "line-link: {from: X1:5, to: X1:2,"),),
        changed(water="H1C0B0"), {"call-does-nothing"}),
    "M03 orange not connected on one valve": Miswiring(
        (unlanded('OG: {from: M1:switch-out, to: X1:9, does: "switched live, boiler"}'),),
        changed(heating="H0C1B0", both__tripped="H0C1B0"), {"valve-without-its-switch"},
        {("heating", "M1:switch-in"): Standing.LINE}),
    "M04 grey not connected on one valve": Miswiring(
        (unlanded("GY: {from: X1:2, to: M1:switch-in, does: permanent line}"),),
        changed(heating="H0C1B0", both__tripped="H0C1B0"), {"valve-without-its-switch"},
        # Grey tells it from M03; only the common oranges hold it, through the boiler's input.
        {("heating", "M1:switch-in"): Standing.SOFT_NEUTRAL,
         ("idle", "M1:switch-in"): Standing.FLOATING}),
    "M07 orange joined to brown, heating": Miswiring(
        (link("latch", "X1:9", "X1:6"),),
        changed(water="H1C1B1") | {
            "idle": {"H0C0B0", "H0C1B1"}, "water satisfied": {"H0C0B0", "H0C1B1"},
            "cold, no call": {"H0C0B0", "H0C1B1"}, "water, tripped": {"H0C0B0", "H0C1B1"}},
        {"circuit-remembers", "zone-opened-by-other-call", "burner-fires-uncalled",
         "output-fed-backwards"}),
    "M08 orange joined to brown, hot water": Miswiring(
        (link("latch", "X1:9", "X1:8"),),
        changed(heating="H1C1B1", both__tripped="H1C1B1") | {
            "idle": {"H0C0B0", "H1C0B1"}, "water satisfied": {"H0C0B0", "H1C0B1"},
            "cold, no call": {"H0C0B0", "H1C0B1"}, "water, tripped": {"H0C0B0", "H1C0B1"}},
        {"cut-out-leaves-valve-powered", "circuit-remembers", "zone-opened-by-other-call",
         "burner-fires-uncalled"}),
    "M10 factory link left in": Miswiring(
        (link("factory-link", "E1:control-out", "E1:control-in"),),
        {name: {f"{does[:-1]}1"} for name, does in HEALTHY.items()},
        {"test-link-left-in", "burner-fires-uncalled", "burner-fires-against-shut-valves"},
        {("idle", "M1:switch-out"): Standing.LINE, ("idle", "M2:switch-out"): Standing.LINE}),
    "M11 satisfied taken for call": Miswiring(
        (core("{from: B1:call, to: F2:in,", "{from: B1:satisfied, to: F2:in,"),),
        changed(water="H0C0B0", water_satisfied="H1C0B1", both="H0C1B1"),
        {"satisfied-used-for-call", "call-does-nothing", "zone-opened-by-other-call"}),
    "M12 cut-out bridged": Miswiring(
        (link("bridge", "F2:in", "F2:out"),),
        changed(water__tripped="H1C0B1", both__tripped="H1C1B1"),
        {"cut-out-leaves-valve-powered"}),
    "M14 cut-out in the grey of the hot-water valve": Miswiring(
        (core("BU: {from: F2:out, to: X1:8,", "BU: {from: B1:call, to: X1:8,"),
         core("{from: B1:call, to: F2:in,", "{from: X1:2, to: F2:in,"),
         core("GY: {from: X1:2, to: M2:switch-in,", "GY: {from: F2:out, to: M2:switch-in,")),
        changed(water__tripped="H1C0B0", both__tripped="H1C1B1"),
        {"cut-out-leaves-valve-powered"},
        {("water, tripped", "M2:motor"): Standing.LINE}),
    "M15 cut-out in the neutral of the motor": Miswiring(
        (core("BU: {from: F2:out, to: X1:8,", "BU: {from: B1:call, to: X1:8,"),
         core("{from: B1:call, to: F2:in,", "{from: X1:4, to: F2:in,"),
         core("BU: {from: X1:4, to: M2:N,", "BU: {from: F2:out, to: M2:N,")),
        changed(), {"neutral-switched", "live-through-load"},
        {("water, tripped", "M2:N"): Standing.SOFT_LINE,
         ("water, tripped", "M2:motor"): Standing.LINE}),
    "M17 thermostat that resets itself as cut-out": Miswiring(
        (core("F2: {is: overheat-cut-out,", "F2: {is: overheat-cut-out-self-resetting,"),),
        changed(), {"cut-out-resets-itself"}),
    "M21 the two thermostats' outputs crossed": Miswiring(
        (core("BN: {from: X1:6, to: M1:motor,", "BN: {from: X1:8, to: M1:motor,"),
         core("BN: {from: X1:8, to: M2:motor,", "BN: {from: X1:6, to: M2:motor,")),
        changed(water="H0C1B1", heating="H1C0B1", both__tripped="H1C0B1"),
        {"zone-opened-by-other-call", "call-does-nothing", "cut-out-leaves-valve-powered"}),
    "M23 neutral of a motor missing": Miswiring(
        (unlanded("BU: {from: X1:4, to: M2:N, does: neutral}"),),
        changed(water="H0C0B0", both="H0C1B1"),
        {"load-without-neutral", "live-through-load", "call-does-nothing"},
        {("water", "M2:N"): Standing.SOFT_LINE, ("idle", "M2:N"): Standing.FLOATING}),
    "M25 cylinder thermostat fed from permanent line": Miswiring(
        (link("bridge", "X1:2", "X1:7"),),
        changed() | {
            "idle": {"H0C0B0", "H1C0B1"}, "cold, no call": {"H1C0B1"},
            "heating": {"H0C1B1", "H1C1B1"}},
        {"zone-opened-by-other-call", "output-fed-backwards"},
        {("idle", "K1:water-on"): Standing.LINE}),
    "M30 frost thermostat on the boiler's switched line": Miswiring(
        (part("B3: {is: frost-thermostat, at: garage}"),
         link("frost-line", "X1:2", "B3:L"), link("frost", "B3:frost", "X1:9")),
        {"frost": {"H0C0B1"}},
        {"burner-fires-against-shut-valves", "burner-fires-uncalled"}),
    "M35 boiler and controls on different circuits in one box": Miswiring(
        (part("Q3: {is: fused-connection-unit, at: kitchen, fuse: 3}"),
         core("supplies:\n", "supplies:\n  boiler: {says: boiler, line: Q3:supply-L, neutral: "
              "Q3:supply-N, earth: Q3:supply-E, isolated-by: {Q3.switch: \"off\"}}\n"),
         core("BN: {from: X1:1, to: E1:L,", "BN: {from: Q3:load-L, to: E1:L,"),
         core("BU: {from: X1:3, to: E1:N,", "BU: {from: Q3:load-N, to: E1:N,")),
        changed(), {"second-supply-unannounced", "neutral-borrowed"},
        {("controls isolated", "E1:L"): Standing.LINE}),
    "M36 neutral of a valve borrowed": Miswiring(
        (core("BU: {from: X1:4, to: M2:N,", "BU: {from: Q2:load-N, to: M2:N,"),),
        changed(), {"neutral-borrowed"}),
    "M38 230 V into extra-low-voltage terminals": Miswiring(
        (core("BK: {from: X1:9, to: E1:control-in,", "BK: {from: X1:9, to: E1:data-1,"),),
        {}, {"extra-low-voltage-meets-mains", "inside-not-known"},
        {("heating", "E1:data-1"): Standing.LINE}),
    "M41 immersion cable reused and still live at its far end": Miswiring(
        (core("BN: {from: X1:7, to: B1:common,", "BN: {from: Q2:load-L, to: B1:common,"),),
        changed() | {
            "idle": {"H0C0B0", "H1C0B1"}, "cold, no call": {"H1C0B1"},
            "heating": {"H0C1B1", "H1C1B1"}},
        {"cable-still-on-old-circuit", "zone-opened-by-other-call", "neutral-borrowed"},
        {("cold, no call", "B1:common"): Standing.LINE}),
    "M42 green-and-yellow core as switched line": Miswiring(
        (core("BN: {from: X1:7, to: B1:common,", "BN: {from: X1:12, to: B1:E,"),
         core("GNYE: {from: X1:12, to: B1:E,", "GNYE: {from: X1:7, to: B1:common,")),
        changed(), {"earth-core-carries-line"}),
    "M43 earth missing at a metal valve": Miswiring(
        (unlanded("GNYE: {from: X1:12, to: M1:E, does: earth}"),),
        changed(), {"earth-missing"}),
    "M44 blue core unsleeved as switched line": Miswiring(
        (core("to: X1:8, sleeve: BN,", "to: X1:8,"),),
        changed(), {"colour-misleads"}),
    "M45 13 A fuse in the 3 A spur": Miswiring(
        (core("fused connection unit, fuse: 3}", "fused connection unit, fuse: 13}"),),
        changed(), {"rating-exceeded"}),
}


def covered(subject: Subject, case: str) -> int:
    """Return the settled states of a case, all supplies on and no cut-out tripped unless named."""
    circuit, wanted = subject.circuit, CASES[case]
    on = {"isolator": True, "fuse": True, "cut-out": False}
    condition = tuple((v, variable.words[1] == wanted[variable.name])
                      if variable.name in wanted else (v, on[variable.kind])
                      for v, variable in enumerate(circuit.variables)
                      if variable.name in wanted or variable.kind in on)
    return subject.settled & subject.potentials.space.cube_table(condition)


def outcomes(subject: Subject, case: str) -> set[str]:
    burner = next(s for s in subject.circuit.heat_sources if s.name == "E1.burner")
    fires = subject.potentials.fires(burner)
    water, heating = (subject.circuit.index[name] for name in ("M2.valve", "M1.valve"))
    return {f"H{s >> water & 1}C{s >> heating & 1}B{fires >> s & 1}"
            for s in states(covered(subject, case))}


def speaking(job: JobSubject) -> set[str]:
    return {rule.name for rule in RULES if _judged(rule, job)}


def _judged(rule: Rule[Any], job: JobSubject) -> bool:
    return bool(rule.judge(job if rule in JOB_RULES else job.fitted).findings)


@pytest.fixture(scope="module", params=ROWS)
def row(request: pytest.FixtureRequest) -> tuple[Miswiring, JobSubject]:
    miswiring = ROWS[request.param]
    return miswiring, job_subject(edited(*miswiring.edits))


def test_the_healthy_system_does_what_the_textbook_says() -> None:
    fitted = job_subject(edited()).fitted
    assert {case: outcomes(fitted, case) for case in HEALTHY} == changed()


def test_a_miswiring_shows_its_symptom(row: tuple[Miswiring, JobSubject]) -> None:
    miswiring, job = row
    assert {case: outcomes(job.fitted, case) for case in miswiring.does} == miswiring.does


def test_a_miswiring_reads_as_it_should(row: tuple[Miswiring, JobSubject]) -> None:
    miswiring, job = row
    potentials = job.fitted.potentials
    for (case, terminal), standing in miswiring.reads.items():
        there = states(covered(job.fitted, case))
        assert {potentials.standing(terminal, state) for state in there} == {standing}


def test_a_miswiring_is_found_by_the_rules_that_are_about_it(
    row: tuple[Miswiring, JobSubject],
) -> None:
    miswiring, job = row
    assert miswiring.speaks <= {rule.name for rule in RULES}
    assert miswiring.speaks <= speaking(job)


def test_grey_and_orange_swapped_at_one_valve_works_the_same_and_is_refused() -> None:
    # Common practice: the end switch is a plain contact. Only the identification is wrong: the
    # maker fitted grey to one side of it and orange to the other.
    swapped = (core("GY: {from: X1:2, to: M1:switch-in,", "GY: {from: X1:9, to: M1:switch-in,"),
               core("OG: {from: M1:switch-out, to: X1:9,", "OG: {from: M1:switch-out, to: X1:2,"))
    job = job_subject(edited(*swapped))
    assert {case: outcomes(job.fitted, case) for case in HEALTHY} == changed()
    assert "call-does-nothing" not in speaking(job)
    written_otherwise = (
        core("GY: {from: X1:2, to: M1:switch-in,", "GY: {from: X1:2, to: M1:switch-out,"),
        core("OG: {from: M1:switch-out, to: X1:9,", "OG: {from: M1:switch-in, to: X1:9,"))
    with pytest.raises(Unreadable) as refused:
        edited(*written_otherwise)
    assert [finding.rule for finding in refused.value.findings] == ["other-core-than-tail"] * 2
