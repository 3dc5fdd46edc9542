"""What `handbook plan` says: every step of a conversion, phase by phase and place by place."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.recipe.wall import Job
from generator.sitework.materials import Material
from generator.sitework.step import PhaseSteps, Step


def plan_text(job: Job, phases: Sequence[PhaseSteps]) -> Iterator[str]:
    """Yield the lines; steps are numbered within their phase."""
    yield job.conversion.name
    yield from _choices(job)
    for phase in phases:
        yield ""
        yield phase.phase.value.upper()
        if phase.always:
            yield f"  {phase.always}"
        if not phase.steps:
            yield "  Nothing."
        place = ""
        for number, step in enumerate(phase.steps, 1):
            if step.place != place:
                place = step.place
                yield f"  -- {place or 'anywhere'}"
            yield from _step(number, step)


def _choices(job: Job) -> Iterator[str]:
    """Yield with which option of each choice it is done, and how another is asked for."""
    for name, choice in job.conversion.choices.items():
        chosen = choice.options[job.options[name]]
        others = ", ".join(f"`{_named(job, {**job.options, name: other})}`"
                           for other in choice.options if other != job.options[name])
        yield f"  {choice.asks} {chosen.says} Otherwise, if it is offered: {others}."


def _named(job: Job, options: Mapping[str, str]) -> str:
    """Return the name of a combination: only options that are not the usual ones stand in it."""
    usual = {name: next(iter(choice.options)) for name, choice in job.conversion.choices.items()}
    return "--".join((job.of, *(each for name, each in options.items() if each != usual[name])))


def _step(number: int, step: Step) -> Iterator[str]:
    yield f"  {number:>3}. {step.does}{_ends(step)}"
    yield from (f"       CAUTION: {said}" for said in step.caution)
    yield from (f"       {said}" for said in (*step.look, *_stated(step)))


def _ends(step: Step) -> str:
    came = f", from {step.start}" if step.start and step.end else ""
    other = f" (other end {step.other})" if step.other else ""
    says = f": {step.says}" if step.says else ""
    return f"{came}{says}{other}"


def _stated(step: Step) -> Iterator[str]:
    if step.tool:
        yield f"Tool: {step.tool}"
    if step.strips:
        yield f"Strip {step.strips:g} mm"
    if step.torque:
        yield f"Tighten to {step.torque:g} Nm"


def plan_json(name: str, phases: Sequence[PhaseSteps], materials: Sequence[Material]) -> str:
    """Return one object; the form is described in DEVELOPERS.md."""
    return json.dumps({
        "conversion": name,
        "phases": [{"phase": each.phase.value, "always": each.always,
                    "steps": [_said(step) for step in each.steps]}
                   for each in phases],
        "materials": [_material(material) for material in materials],
    }, indent=1, ensure_ascii=False)


def _said(step: Step) -> dict[str, Any]:
    return {"does": step.does, "place": step.place, "part": step.part, "cable": step.cable,
            "core": step.core, "sleeve": step.sleeve, "says": step.says,
            "from": step.start, "to": step.end,
            "other-end": step.other, "tool": step.tool, "torque-nm": step.torque or None,
            "strip-mm": step.strips or None, "look": list(step.look),
            "caution": list(step.caution), "parts-or-joins-supply": step.gate}


def _material(material: Material) -> dict[str, Any]:
    return {"kind": material.kind, "number": material.number, "unit": material.unit,
            "what": material.what, "used-for": material.used_for}


def materials_json(materials: Sequence[Material]) -> str:
    """Return a list of objects; the form is described in DEVELOPERS.md."""
    return json.dumps([_material(each) for each in materials], indent=1, ensure_ascii=False)


def materials_text(materials: Sequence[Material]) -> Iterator[str]:
    """Yield the list for a reader, one material a line."""
    for material in materials:
        used = f" ({material.used_for})" if material.used_for else ""
        yield f"{material.amount:>6}  {material.what}{used}"
