"""Pairs of systems made by Hypothesis: a shipped one, and the same with its cores moved about."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from generator.checks.subject import JobSubject, job_subject
from generator.recipe.wall import Laid, Wall
from tests.circuit.flagship import flagship
from tests.sitework.shipped import SYSTEMS, shipped

FEW = 7
"""Switches and positions of the systems that are edited: their states are all walked."""


@st.composite
def pairs(draw: st.DrawFn) -> JobSubject:
    """Return a conversion between two edits of one shipped system."""
    small = [name for name in SYSTEMS if len(shipped(name).circuit.variables) <= FEW]
    base = shipped(draw(st.sampled_from(small))).wall
    found, fitted = draw(edits(base)), draw(edits(base))
    job = flagship().job
    bare = job.conversion.model_copy(update={"goes": {}})
    return job_subject(replace(job, conversion=bare, found=found, fitted=fitted))


@st.composite
def edits(draw: st.DrawFn, base: Wall) -> Wall:
    """Return a wall with some cores moved or made safe, links taken out, parts taken away."""
    gone = draw(st.sets(st.sampled_from(_removable(base)), max_size=1)) if _removable(base) else ()
    parts = {name: part for name, part in base.parts.items() if name not in gone}
    terminals = [f"{name}:{terminal}" for name, part in parts.items()
                 for terminal, each in part.part.terminals.items()
                 if each.row != "inside" and each.tail is None]
    cables = {name: draw(_recored(cable, terminals, parts)) for name, cable in base.cables.items()}
    links = {name: link for name, link in base.system.links.items()
             if {_part(link.from_), _part(link.to)} <= parts.keys() and draw(st.integers(0, 4))}
    system = base.system.model_copy(update={
        "cables": {name: cable.laid for name, cable in cables.items()}, "links": links,
        "parts": {name: part.placed for name, part in parts.items()}, "zones": {}})
    return replace(base, system=system, parts=parts, cables=cables)


def _removable(wall: Wall) -> list[str]:
    kept = {_part(terminal) for supply in wall.system.supplies.values()
            for terminal in (supply.line, supply.neutral, supply.earth)}
    kept |= {_part(name) for supply in wall.system.supplies.values() for name in supply.isolated_by}
    kept |= {part.placed.inside for part in wall.parts.values() if part.placed.inside}
    return [name for name in wall.parts if name not in kept]


def _part(terminal: str) -> str:
    return terminal.replace(".", ":").split(":")[0]


@st.composite
def _recored(draw: st.DrawFn, cable: Laid, terminals: list[str], parts: dict[str, Any]) -> Laid:
    cores = {}
    for colour, core in cable.laid.cores.items():
        ends = {"from_": core.from_, "to": core.to}
        for end, at in ends.items():
            if at is None or _part(at) not in parts or not draw(st.integers(0, 5)):
                ends[end] = draw(st.sampled_from([None, *terminals]))
        if None in ends.values() or ends["from_"] == ends["to"]:
            ends = {"from_": None, "to": None}
        safe = None if ends["to"] else "both ends in terminal connectors"
        cores[colour] = core.model_copy(update={**ends, "made_safe": safe})
    return replace(cable, laid=cable.laid.model_copy(update={"cores": cores}))
