"""What `handbook which` says: the questions that lead from a wall to the conversion for it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from generator.recipe.met import Met
from generator.sitework.key.steps import Key, Reply, Step


def which_text(key: Key) -> Iterator[str]:
    """Yield the lines: each question with its answers, what starts where, and the figures."""
    for step in key.steps:
        yield from _step(step)
    if not key.steps:
        yield f"Nothing to ask: {_names(key.alike) or 'no system says how it looks'}"
    for met in key.met.told:
        starts = "; ".join(start.name for start in met.starts)
        yield f"{met.name}: {starts or 'no conversion starts here yet: stop, ask'}"
    if key.met.untold:
        yield f"not in the questions, nothing says how they look: {_names(key.met.untold)}"
    yield from _figures(key)


def _step(step: Step) -> Iterator[str]:
    yield f"{step.number}. {'Made dead first: ' if step.opened else ''}{step.asks}"
    yield from (f"   {reply.says}{_leads(reply)}" for reply in step.replies)
    yield "   something else: none of these: stop, ask"
    yield f"   {step.cannot.says}{_leads(step.cannot)}"


def _leads(reply: Reply) -> str:
    if reply.then:
        return f" -> {reply.then}"
    told = "" if len(reply.left) == 1 else "not told apart, stop, ask: "
    return f": {told}{_names(reply.left)}"


def _names(systems: tuple[Met, ...]) -> str:
    return "; ".join(met.name for met in systems)


def _figures(key: Key) -> Iterator[str]:
    figures, costs = key.figures, key.costs
    yield (f"{len(key.met.told)} systems: {figures.expected:.2f} questions expected, "
           f"{figures.worst} at worst; not below {figures.bound:.2f}, whatever the order (log2 of "
           "what is told apart, over log2 of the most answers to a question)")
    least = "the least there is" if key.exact else "perhaps not the least"
    yield (f"cost {key.cost:.2f} expected, {least}; counted as: a look {costs.reading:g}, "
           f"a try {costs.reading + costs.control + costs.valve:g}, opening {costs.lid:g} more, "
           f"isolating {costs.isolating:g} once; a judgement, no source")
    yield f"goes round what cannot be told: {key.unanswered} on a way"


def which_json(key: Key) -> str:
    """Return one object; the form is described in DEVELOPERS.md."""
    said: dict[str, Any] = {
        "systems": [_system(met) for met in key.met.systems],
        "steps": [_said(step) for step in key.steps],
        "alike": [met.name for met in key.alike],
        "expected": round(key.figures.expected, 4), "worst": key.figures.worst,
        "bound": round(key.figures.bound, 4), "cost": round(key.cost, 4), "exact": key.exact,
        "unanswered": key.unanswered,
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _system(met: Met) -> dict[str, Any]:
    return {"name": met.name, "title": met.system.name,
            "seen": {name: list(answers) for name, answers in met.system.seen.items()},
            "starts": [start.name for start in met.starts]}


def _said(step: Step) -> dict[str, Any]:
    return {"number": step.number, "question": step.name, "asks": step.asks,
            "opened": step.opened, "detour": step.detour,
            "answers": [_reply(reply) for reply in step.replies], "cannot": _reply(step.cannot)}


def _reply(reply: Reply) -> dict[str, Any]:
    return {"answer": reply.answer, "then": reply.then,
            "systems": [met.name for met in reply.left]}
