"""Conductor figures against the published tables and the figures worked out from them."""

from __future__ import annotations

import pytest

from generator.circuit.conductors import (
    CORD_AMPS,
    CORD_DROP,
    DROP_LIMIT,
    FIXED_DROP,
    RESISTANCE,
    Insulation,
    Make,
    core_ohms,
    heat_factor,
    loop_ohms,
    voltage_drop,
    warmed,
)

# IEC 60228, ohm/km at 20 °C; the classes looked up in its tables 1, 2 and 3.
IEC_60228 = [
    (Make.SOLID, [36.0, 24.5, 18.1, 12.1, 7.41]),
    (Make.STRANDED, [36.0, 24.5, 18.1, 12.1, 7.41]),
    (Make.SOLID_TINNED, [36.7, 24.8, 18.2, 12.2, 7.56]),
    (Make.STRANDED_TINNED, [36.7, 24.8, 18.2, 12.2, 7.56]),
    (Make.FLEXIBLE, [39.0, 26.0, 19.5, 13.3, 7.98]),
    (Make.FLEXIBLE_TINNED, [40.1, 26.7, 20.0, 13.7, 8.21]),
]


@pytest.mark.parametrize(("make", "column"), IEC_60228)
def test_a_kilometre_of_core_has_what_iec_60228_says(make: Make, column: list[float]) -> None:
    assert [core_ohms(1000, area, make) for area in (0.5, 0.75, 1.0, 1.5, 2.5)] == column


def test_finer_strands_and_tin_have_more_resistance_and_size_has_less() -> None:
    for plain, tinned, flexible, flexible_tinned in RESISTANCE.values():
        assert plain < tinned < flexible < flexible_tinned
    columns = zip(*RESISTANCE.values(), strict=True)
    assert all(list(column) == sorted(column, reverse=True) for column in columns)


def test_the_cord_tables_are_those_of_bs_7671() -> None:
    # BS 7671 Tables 4F3A, 4F3B (60 °C flexible cord) and 4D5 (70 °C PVC).
    assert CORD_AMPS == {0.5: 3, 0.75: 6, 1.0: 10, 1.25: 13, 1.5: 16, 2.5: 25}
    assert CORD_DROP == {0.5: 93, 0.75: 62, 1.0: 46, 1.25: 37, 1.5: 32, 2.5: 19}
    assert FIXED_DROP == {1.0: 44, 1.5: 29, 2.5: 18}
    assert round(230 * DROP_LIMIT, 6) == 11.5  # BS 7671 Appendix 4 Table 4Ab


@pytest.mark.parametrize(("area", "from_tinned", "from_plain"), [
    (0.5, 92.8, 90.3), (0.75, 61.8, 60.2), (1.0, 46.3, 45.1), (1.5, 31.7, 30.8), (2.5, 19.0, 18.5),
])
def test_the_drop_column_is_twice_the_tinned_class_5_core_at_60_c(
    area: float, from_tinned: float, from_plain: float
) -> None:
    """Worked out from IEC 60228 and 0.00393 per °C, against BS 7671 Table 4F3B, to a unit."""
    tinned = 1000 * loop_ohms(1, area, Make.FLEXIBLE_TINNED, 60)
    plain = 1000 * loop_ohms(1, area, Make.FLEXIBLE, 60)
    assert tinned == pytest.approx(from_tinned, abs=0.06)
    assert plain == pytest.approx(from_plain, abs=0.06)
    assert abs(tinned - CORD_DROP[area]) < 0.5
    assert plain < CORD_DROP[area]


def test_copper_warms_by_the_iec_rule() -> None:
    """IEC 60228 annex: 254.5/(234.5 + t), equal to 1/(1 + 0.00393 (t - 20))."""
    assert warmed(20) == 1
    assert warmed(60) == pytest.approx(1.157, abs=0.0005)
    for celsius in (0, 40, 70, 90):
        assert warmed(celsius) == pytest.approx(1 + 0.00393 * (celsius - 20), 1e-4)


@pytest.mark.parametrize(("celsius", "rounder"), [(60, 1.16), (70, 1.20), (90, 1.28)])
def test_the_rounder_rule_of_uk_guidance_lies_within_half_a_percent(
    celsius: float, rounder: float
) -> None:
    """UK wiring guidance, 0.004 per °C from 20 °C (from memory)."""
    assert warmed(celsius) == pytest.approx(rounder, 0.005)


def test_a_valve_motor_loses_nothing_on_its_flex() -> None:
    """Worked, BS 7671 Appendix 4: 0.75 mm², 5 m, 6 W: 62 × 0.026 × 5 / 1000 = 0.008 V."""
    assert round(6 / 230, 3) == 0.026
    assert voltage_drop(6 / 230, 5, 0.75) == pytest.approx(0.008, abs=0.0005)


def test_a_whole_system_loses_half_a_volt_on_ten_metres() -> None:
    """Worked, BS 7671 Appendix 4: 0.75 mm², 10 m, 0.75 A: 62 × 0.75 × 10 / 1000 = 0.465 V."""
    drop = voltage_drop(0.75, 10, 0.75)
    assert drop == pytest.approx(0.465)
    assert round(100 * drop / 230, 2) == 0.20


def test_ten_metres_of_flex_show_half_an_ohm_out_and_back() -> None:
    """Worked, IEC 60228: 2 × 10 × 0.026 = 0.52 ohm; at 60 °C × 1.157 = 0.602 ohm."""
    assert loop_ohms(10, 0.75) == pytest.approx(0.52)
    assert loop_ohms(10, 0.75, celsius=60) == pytest.approx(0.602, abs=0.0005)


def test_other_insulation_drops_more_or_less() -> None:
    # BS 7671 Table 4F3B, note: × 1.09 for 90 °C cord; Table 4D5: 29 mV/A/m for 1.5 mm².
    assert voltage_drop(1, 1000, 1.5, Insulation.HOT_CORD) == pytest.approx(34.88)
    assert voltage_drop(1, 1000, 1.5, Insulation.FIXED) == pytest.approx(29)


@pytest.mark.parametrize(("insulation", "rows"), [
    (Insulation.CORD,
     {20: 1.0, 30: 1.0, 35: 0.91, 40: 0.82, 45: 0.71, 50: 0.58, 55: 0.41, 56: 0.0}),
    (Insulation.HOT_CORD,
     {30: 1.0, 35: 1.0, 50: 1.0, 55: 0.96, 60: 0.83, 65: 0.67, 70: 0.47, 71: 0.0}),
])
def test_heat_takes_current_away_as_the_notes_of_the_table_say(
    insulation: Insulation, rows: dict[int, float]
) -> None:
    # BS 7671 Table 4F3A, notes: ambient factors of 60 °C and 90 °C cord.
    assert {row: heat_factor(row, insulation) for row in rows} == rows


def test_between_two_rows_the_hotter_one_counts() -> None:
    assert heat_factor(36) == heat_factor(40) == 0.82
    assert heat_factor(31) == 0.91


def test_a_size_that_only_the_cord_tables_have_is_worked_back() -> None:
    """1.25 mm²: 37 mV/A/m at 60 °C (BS 7671 Table 4F3B) are about 16.0 ohm/km; worked."""
    assert core_ohms(1000, 1.25) == pytest.approx(16.0, abs=0.05)


def test_a_size_that_no_table_has_is_refused() -> None:
    for figure in (lambda: loop_ohms(1, 4.0), lambda: voltage_drop(1, 1, 4.0),
                   lambda: voltage_drop(1, 1, 0.75, Insulation.FIXED),
                   lambda: heat_factor(20, Insulation.FIXED)):
        with pytest.raises(KeyError):
            figure()
