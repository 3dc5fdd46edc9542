"""Every end of the page that leads to a conversion says what fuel the page it leads to is for.

Gas is for its register, LPG a category of its own there: GSIUR 1998 regulation 3; oil, from memory.
"""

from __future__ import annotations

import re

from generator.pages.site import which_page
from generator.pages.which_view import FUELS, which_view
from generator.recipe.costs import USUAL
from generator.recipe.meeting import all_met
from tests.pages.project import ROOT
from tests.sitework.shipped import LIBRARY, SYSTEMS, shipped

OIL = "oil-burner-time-switch-room-thermostat"
WALLS = tuple(shipped(name).wall for name in SYSTEMS)
VIEW = which_view(all_met(LIBRARY), USUAL, WALLS)


def ends() -> list[str]:
    body = which_page(ROOT / "site_templates", VIEW).body
    return [end for end in re.findall(r'<span class="hb-end">(.*?)</span>', body, re.DOTALL)
            if "#looks-" in end]


def test_every_end_says_the_fuel_of_each_system_it_leaves() -> None:
    assert len(ends()) > 10
    for end in ends():
        left = re.findall(r"#looks-([^\"]+)", end)
        wanted = ["oil" if name == OIL else "gas" for name in left]
        said = [next(fuel for fuel, words in FUELS.items() if words == line)
                for line in re.findall("|".join(map(re.escape, FUELS.values())), end)]
        assert said == wanted, end


def test_who_has_another_fuel_is_stopped() -> None:
    assert VIEW.fuels[OIL] == (FUELS["oil"],)
    assert all("stop, another register" in words for words in FUELS.values())
    assert "LPG" in FUELS["gas"]
