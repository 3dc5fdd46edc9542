"""What recipes and rules say in figures and colours, against the published tables."""

from __future__ import annotations

import pytest

from generator.checks.examples import HEADERS
from generator.checks.rules import cable_softens, colour_misleads, rating_exceeded
from generator.checks.rules.rating_exceeded import tenths
from generator.checks.subject import Subject, subject
from generator.circuit.currents import flows, worst
from generator.circuit.nodal import VOLTS
from generator.circuit.potentials import solve
from generator.recipe.articles import Cable, Part
from generator.recipe.forms import Colour
from generator.recipe.library import Library
from generator.recipe.parsing import read_document
from generator.recipe.reader import read_wall
from generator.recipe.shapes import shaped
from generator.recipe.systems import System
from generator.recipe.wall import Source
from tests.checks.edited import RECIPES, edited
from tests.circuit.made_circuits import made

# BS 7671 Table 4F3A, 60 °C flexible cords, single-phase: mm² to A.
TABLE_4F3A = {0.5: 3, 0.75: 6, 1.0: 10, 1.25: 13, 1.5: 16, 2.5: 25}
# IEC 60757:1983, kept in IEC 60757:2021 Table 1.
IEC_60757 = {"BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR",
             "GNYE"}
# BS 7671 Table 51, control circuits: colours a line may have. The list is from memory.
LINE_COLOURS = ("BN", "BK", "RD", "OG", "YE", "VT", "GY", "WH", "PK", "TQ")

LIBRARY = Library(RECIPES)


def recipes(kind: type) -> list:
    sources = (LIBRARY.source(path) for path in LIBRARY.files("parts"))
    return [pytest.param(source.model, id=source.name) for source in sources
            if isinstance(source.model, kind)]


def test_the_colours_are_the_fifteen_of_iec_60757() -> None:
    assert set(Colour) == IEC_60757
    assert len(Colour) == 15


def test_line_is_brown_neutral_blue_and_earth_green_and_yellow() -> None:
    # BS 7671 Table 51; IEC 60445.
    assert colour_misleads.SLEEVE == {"line": "BN", "neutral": "BU"}
    assert colour_misleads.SAYS["BU"] == "neutral"
    assert colour_misleads.SAYS["GNYE"] == "earth"
    assert not set(LINE_COLOURS) & set(colour_misleads.SAYS)


@pytest.mark.parametrize("cable", recipes(Cable))
def test_a_mains_cable_carries_what_its_table_says(cable: Cable) -> None:
    if cable.signal:
        # Data leads are in no table for mains; they must not outdo one.
        assert cable.amps <= TABLE_4F3A[cable.area]
    else:
        assert cable.source == "BS 7671 Table 4F3A"
        assert cable.amps == TABLE_4F3A[cable.area]


@pytest.mark.parametrize("part", recipes(Part))
def test_an_inductive_rating_is_no_more_than_the_resistive_one(part: Part) -> None:
    # EN 60730-1 marking a(b): the bracketed figure is the inductive one (from memory).
    for name, contact in part.contacts.items():
        if contact.rating and contact.rating.inductive is not None:
            assert contact.rating.inductive <= contact.rating.amps, name


def small(area: float, amps: float, fuse: float) -> Subject:
    """Return one valve on one flex behind one fuse."""
    texts = {
        "systems/small.yaml": HEADERS["system"] + f"""
supplies:
  controls: {{says: heating controls, line: Q1:supply-L, neutral: Q1:supply-N,
    earth: Q1:supply-E, isolated-by: {{Q1.switch: "off"}}}}
parts:
  Q1: {{is: fused-connection-unit, at: cupboard, fuse: {fuse}}}
  M2: {{is: two-port-valve, at: cupboard}}
cables:
  W1:
    is: flex
    length: 1
    cores:
      BN: {{from: Q1:load-L, to: M2:motor, does: line}}
      BU: {{from: Q1:load-N, to: M2:N, does: neutral}}
      GNYE: {{from: Q1:load-E, to: M2:E, does: earth}}
""",
        "parts/flex.yaml": f"kind: cable\nname: flex\ncores: [BN, BU, GNYE]\narea: {area}\n"
                           f"amps: {amps}\n",
    }
    library = Library(RECIPES)
    for file, text in texts.items():
        document, path = read_document(file, text.encode()), RECIPES / file
        library.read[path] = Source(path.stem, document, shaped(document))
    system = library.source(RECIPES / "systems/small.yaml")
    assert isinstance(system.model, System)
    return subject(read_wall(library, system))


@pytest.mark.parametrize("fuse", [3, 13])
@pytest.mark.parametrize("area", TABLE_4F3A)
def test_behind_13_a_no_flex_below_1_25_and_behind_3_a_none_below_0_5(
    area: float, fuse: int
) -> None:
    # The table of fuses and flexes: 1.25 mm² behind 13 A, 0.5 mm² behind 3 A.
    findings = rating_exceeded.RULE.judge(small(area, TABLE_4F3A[area], fuse)).findings
    assert bool(findings) == (fuse == 13 and area < 1.25)


def flowing(watts: float) -> float:
    circuit = made([], [], [], [("Q1:L", "Q1:N", "element", watts)], 0, [])
    return tenths(worst(flows(solve(circuit), 1), circuit.loads[0]).amps)


def test_three_ampere_is_690_watt_and_three_kilowatt_is_about_13_ampere() -> None:
    # 3 A at 230 V = 690 W; 3 kW of immersion heater is about 13 A (guidance on BS 7671 314.1).
    assert VOLTS == 230
    assert flowing(690) == 3.0
    assert flowing(720) > 3.0
    assert flowing(3000) == 13.0


def test_the_voltage_lies_within_the_permitted_band() -> None:
    # 230 V +10 % -6 %: Electricity Supply (Amendment) (No 2) Regulations 1994.
    assert VOLTS >= 216.2
    assert VOLTS <= 253.0


def test_the_flagship_draws_what_heating_controls_draw() -> None:
    # Boiler 60-150 W, pump, two valves and controls: 0.35 to 1.05 A, worked out from the parts.
    flagship = subject(edited().fitted)
    fuse = next(c for c in flagship.circuit.contacts if c.name == "Q1.fuse-link")
    most = worst(flows(flagship.potentials, flagship.settled), fuse)
    assert 0.35 <= most.amps <= 1.05
    assert most.predictable


def test_the_heat_factors_are_those_of_the_table() -> None:
    # BS 7671 Table 4F3A notes at 55 °C: 0.41 for a 60 °C cord, 0.96 for a 90 °C cord.
    basis = cable_softens.RULE.basis[0].text
    assert "0.41" in basis
    assert "0.96" in basis
