"""What a run of copper does by the published tables: resistance, voltage drop, current it carries.

Ampere, volt, ohm, metre, mm² and °C throughout.
"""

from __future__ import annotations

from enum import Enum

RESISTANCE = {
    # mm²: class 1 and 2 plain, class 1 and 2 tinned, class 5 plain, class 5 tinned; ohm/km
    0.5: (36.0, 36.7, 39.0, 40.1),
    0.75: (24.5, 24.8, 26.0, 26.7),
    1.0: (18.1, 18.2, 19.5, 20.0),
    1.5: (12.1, 12.2, 13.3, 13.7),
    2.5: (7.41, 7.56, 7.98, 8.21),
}
"""The most a core has at 20 °C by direct current, IEC 60228. 1.25 mm² is no size of that standard
(from memory); at these sizes its classes 1 (solid) and 2 (stranded) have the same figures."""

CORD_AMPS = {0.5: 3.0, 0.75: 6.0, 1.0: 10.0, 1.25: 13.0, 1.5: 16.0, 2.5: 25.0}
"""What a flexible cord carries on one phase, in A: BS 7671 Table 4F3A."""

CORD_DROP = {0.5: 93.0, 0.75: 62.0, 1.0: 46.0, 1.25: 37.0, 1.5: 32.0, 2.5: 19.0}
"""Drop over a line core and its neutral in mV for each A and m: BS 7671 Table 4F3B, 60 °C cord."""

HOT_CORD_DROP = {area: 1.09 * drop for area, drop in CORD_DROP.items()}
"""The same for a 90 °C cord: note of Table 4F3B."""

FIXED_DROP = {1.0: 44.0, 1.5: 29.0, 2.5: 18.0}
"""The same for fixed wiring insulated in 70 °C PVC, one phase: BS 7671 Table 4D5."""


class Insulation(Enum):
    """What is round the cores, by the table that speaks of it; each with its drop in mV/A/m."""

    CORD = CORD_DROP
    HOT_CORD = HOT_CORD_DROP
    FIXED = FIXED_DROP


HEAT = {
    Insulation.CORD: {35: 0.91, 40: 0.82, 45: 0.71, 50: 0.58, 55: 0.41},
    Insulation.HOT_CORD: {35: 1.0, 40: 1.0, 45: 1.0, 50: 1.0, 55: 0.96, 60: 0.83, 65: 0.67,
                          70: 0.47},
}
"""What is left of a cord's current at an ambient of so many °C, 60 °C and 90 °C cord: BS 7671 Table
4F3A, notes. Up to 30 °C all of it."""

DROP_LIMIT = 0.05
"""Guideline from the origin to a load that is not lighting, public supply: 5 %, BS 7671 Appendix 4
Table 4Ab."""


class Make(Enum):
    """How a core is made: its class in IEC 60228, and whether its strands are tinned."""

    SOLID = 1
    STRANDED = 2
    SOLID_TINNED = -1
    STRANDED_TINNED = -2
    FLEXIBLE = 5
    FLEXIBLE_TINNED = -5


_COLUMN = {Make.SOLID: 0, Make.STRANDED: 0, Make.SOLID_TINNED: 1, Make.STRANDED_TINNED: 1,
           Make.FLEXIBLE: 2, Make.FLEXIBLE_TINNED: 3}


def core_ohms(metres: float, area: float, make: Make = Make.FLEXIBLE,
              celsius: float = 20.0) -> float:
    """Return the most that one core of a run has from end to end, IEC 60228.

    A size that only a cord table has is worked back from its drop at 60 °C, which is that of tinned
    strands. Raises KeyError for a size in neither.
    """
    if area in RESISTANCE:
        per_km = RESISTANCE[area][_COLUMN[make]]
    else:
        per_km = CORD_DROP[area] / 2 / warmed(60)
    return per_km * metres / 1000 * warmed(celsius)


def loop_ohms(metres: float, area: float, make: Make = Make.FLEXIBLE,
              celsius: float = 20.0) -> float:
    """Return the most that two cores of a run have, joined at the far end: out and back."""
    return 2 * core_ohms(metres, area, make, celsius)


def warmed(celsius: float) -> float:
    """Return by how much copper has more resistance at this temperature than at 20 °C.

    IEC 60228 annex: R20 = Rt × 254.5 / (234.5 + t).
    """
    return (234.5 + celsius) / 254.5


def voltage_drop(
    amps: float, metres: float, area: float, insulation: Insulation = Insulation.CORD
) -> float:
    """Return the drop in V over a run, line and neutral together: BS 7671 Appendix 4, clause 6.

    Raises KeyError for a size that the table of this insulation does not have.
    """
    return insulation.value[area] / 1000 * amps * metres


def heat_factor(celsius: float, insulation: Insulation = Insulation.CORD) -> float:
    """Return what is left of a cord's current at this ambient; between rows, the hotter row.

    BS 7671 Table 4F3A, notes. Above the last row nothing is left: the cord may not be used there.
    Raises KeyError for fixed wiring, of which that table does not speak.
    """
    table = HEAT[insulation]
    if celsius <= 30:
        return 1.0
    return next((factor for row, factor in table.items() if celsius <= row), 0.0)
