"""Every page of the handbook, from what was judged."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from generator.checks.subject import JobSubject, Subject
from generator.judging.judged import Judged, Verdicts
from generator.pages.choices_view import Asked, choices_view
from generator.pages.circuit_sheet import circuit_sheet
from generator.pages.drawings.wiring import draw
from generator.pages.inner_sheet import inner_sheet
from generator.pages.kept import Kept, stamps
from generator.pages.reference_views import SystemView, part_view, rule_views, system_view
from generator.pages.sheets import wiring_sheet
from generator.pages.site import (
    SitePage,
    cables_page,
    conversion_page,
    home_page,
    part_page,
    reading_page,
    rule_page,
    survey_page,
    system_page,
    which_page,
)
from generator.pages.views import ConversionView, conversion_view
from generator.pages.which_view import which_view
from generator.recipe.articles import Cable, Part
from generator.recipe.costs import USUAL, Costs
from generator.recipe.met import NOBODY, AllMet
from generator.recipe.wall import Job
from generator.sitework.changes import Changes, Fate

_MARKS = {Fate.NEW: "comes", Fate.MOVES: "moves", Fate.REUSED: "moves", Fate.STAYS: "stays",
          Fate.REMOVED: "goes", Fate.MADE_SAFE: "goes"}
"""How a drawing marks what becomes of a core."""


def book(
    templates: Path, judged: tuple[Judged, ...], costs: Costs = USUAL, met: AllMet = NOBODY,
    together: Verdicts = (), kept: Kept | None = None,
) -> Iterator[SitePage]:
    """Yield every page: home, which conversion, how to read, conversions, systems, parts, rules.

    What is in `kept` and rests on the same things is taken from there.
    """
    kept = kept or Kept()
    written = stamps(templates)
    jobs = tuple((each.subject, each.verdicts) for each in judged
                 if isinstance(each.subject, JobSubject))
    systems = tuple((each.subject, each.verdicts) for each in judged
                    if isinstance(each.subject, Subject))
    conversions = tuple(
        kept.get(f"view of {job.job.name}", (job, verdicts, costs, choices),
                 partial(conversion_view, job, verdicts, costs, choices))
        for job, verdicts in jobs for choices in (_choices(job.job, judged),))
    titles = {subject.wall.name: subject.wall.system.name for subject, _ in systems}
    standing = tuple(
        system_view(each.subject, each.verdicts, each.variant,
                    titles[each.variant.extends] if each.variant else "")
        for each in judged if isinstance(each.subject, Subject))
    walls = tuple(subject.wall for subject, _ in systems)
    models = tuple((each.source, each.source.model) for each in judged)
    articles = tuple(part_view(source, walls) for source, model in models
                     if isinstance(model, Part))
    cables = tuple((source.name, model) for source, model in models if isinstance(model, Cable))
    rules = rule_views((
        *((subject.wall.system.name, verdicts) for subject, verdicts in systems if verdicts),
        *((job.job.conversion.name, verdicts) for job, verdicts in jobs),
        ("All systems that may be met", together)))
    yield home_page(templates, conversions, standing, articles, rules)
    yield which_page(templates, which_view(met, costs, walls))
    yield reading_page(templates)
    for view, (job, _) in zip(conversions, jobs, strict=True):
        yield kept.get(f"page of {view.name}", (view, written),
                       partial(_conversion, templates, view, job))
        yield survey_page(templates, view)
    for system, (subject, _) in zip(standing, systems, strict=True):
        yield kept.get(f"system page of {system.name}", (system, written),
                       partial(_system, templates, system, subject))
    yield from (part_page(templates, view, inner_sheet(view.part)) for view in articles)
    yield cables_page(templates, cables)
    for rule in rules:
        text = rule.rule.page.read_text(encoding="utf-8")
        yield rule_page(templates, rule, text)


def _choices(job: Job, judged: tuple[Judged, ...]) -> tuple[Asked, ...]:
    """Return where each other answer to the questions of a conversion leads."""
    family = [(each, each.subject.job) for each in judged
              if isinstance(each.subject, JobSubject) and each.subject.job.of == job.of]
    return choices_view(job, (other for _, other in family),
                        (refusal for each, _ in family for refusal in each.refusals))


def _system(templates: Path, view: SystemView, subject: Subject) -> SitePage:
    return system_page(templates, view, draw(wiring_sheet(subject)), circuit_sheet(subject))


def _conversion(templates: Path, view: ConversionView, job: JobSubject) -> SitePage:
    marks = fate_marks(view.changes)
    # On the fitted drawing a moved core is landed like a new one; on the found one it comes off.
    fitted = {name: "comes" for name, mark in marks.items() if mark in ("comes", "moves")}
    found = {name: "goes" for name, mark in marks.items() if mark in ("goes", "moves")}
    return conversion_page(templates, view, draw(wiring_sheet(job.found, found)),
                           draw(wiring_sheet(job.fitted, fitted)), circuit_sheet(job.fitted))


def fate_marks(changes: Changes) -> dict[str, str]:
    """Return the mark of every core and link by its name, as `W5.BU`."""
    cores = {f"{core.cable}.{core.colour}": _MARKS[core.fate] for core in changes.cores()}
    return cores | {link.cable: _MARKS[link.fate] for link in changes.links}
