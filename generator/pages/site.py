"""Fills the templates: from views to pages of the site. The only module that knows Jinja2."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup, escape

from generator.checks.examples import FENCE
from generator.findings import Finding
from generator.pages.drawings.circuit import draw_circuit
from generator.pages.drawings.circuit_values import CircuitSheet
from generator.pages.drawings.inner import draw_inner
from generator.pages.drawings.inner_values import InnerSheet
from generator.pages.reference_views import PartView, RuleView, SystemView
from generator.pages.views import ConversionView
from generator.pages.which_view import WhichView
from generator.pages.wording import conductor, spoken, terminal
from generator.recipe.articles import Cable
from generator.recipe.forms import COLOURS
from generator.sitework.materials import materials_csv

_HEADING = re.compile(r'<h([23]) id="([^"]+)"[^>]*>(.*?)</h\1>', re.DOTALL)
_TAG = re.compile(r"<[^>]+>")


@dataclass(frozen=True)
class Heading:
    """A heading of a page, for its table of contents."""

    level: int
    anchor: str
    text: str


@dataclass(frozen=True)
class SitePage:
    """A page of the site: ready HTML, or Markdown where `markdown` is true.

    `drawings` holds DOT text by the key at which the HTML says `<!--drawing KEY-->`, `files` the
    text of what is published beside it by its path in the site. `weight` says how far up it comes
    in a search: what an engineer looks for on site before what explains it.
    """

    path: str
    title: str
    description: str
    body: str
    markdown: bool = False
    drawings: dict[str, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    weight: float = 1.0

    def headings(self) -> Iterator[Heading]:
        """Yield the headings in ready HTML, in order."""
        for level, anchor, inner in _HEADING.findall(self.body):
            yield Heading(int(level), anchor, " ".join(_TAG.sub("", inner).split()))


@lru_cache(maxsize=4)
def _environment(templates: Path) -> jinja2.Environment:
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(templates), autoescape=True, auto_reload=True,
        undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    environment.filters |= {"conductor": conductor, "terminal": _unbroken, "named": _named,
                            "coded": _coded, "spoken": spoken, "sentence": _sentence}
    return environment


def _sentence(text: str) -> str:
    """Return a text that begins with a capital; what is written in capitals stays."""
    return text[:1].upper() + text[1:]


def _unbroken(name: str) -> Markup:
    """Return a terminal or designation that a narrow line may not break at its hyphen."""
    return Markup('<span class="hb-name">{}</span>').format(terminal(name))


_NAME = re.compile(r"-[A-Z]{1,2}[0-9]{1,3}(?:[:.][A-Za-z0-9-]+)?")


def _named(text: str) -> Markup:
    """Return a text in which no designation is broken at its hyphen."""
    return Markup(_NAME.sub(r'<span class="hb-name">\g<0></span>', str(escape(text))))


def _coded(text: str) -> Markup:
    """Return a message with what stands between its backticks as code."""
    return Markup(re.sub(r"`([^`]*)`", r"<code>\1</code>", str(escape(text))))


def _fill(templates: Path, name: str, **values: Any) -> str:
    return _environment(templates).get_template(f"handbook/{name}").render(**values)


def home_page(
    templates: Path, conversions: tuple[ConversionView, ...], systems: tuple[SystemView, ...],
    parts: tuple[PartView, ...], rules: tuple[RuleView, ...],
) -> SitePage:
    """Return the front page: what is in the handbook and where to begin."""
    body = _fill(templates, "home.html", conversions=conversions, systems=systems, parts=parts,
                 rules=rules)
    return SitePage("index.md", "Wiring handbook", "Find the conversion that fits what is on the "
                    "wall.", body)


def which_page(templates: Path, view: WhichView) -> SitePage:
    """Return the page that leads from what is on the wall to the conversion."""
    body = _fill(templates, "which.html", view=view)
    return SitePage("which-conversion.md", "Which conversion is this?",
                    "From what is on the wall to the conversion that starts there, or to none.",
                    body, weight=3)


def reading_page(templates: Path) -> SitePage:
    """Return the page on how to read the handbook."""
    body = _fill(templates, "reading.html", colours=COLOURS)
    return SitePage("how-to-read.md", "How to read this handbook",
                    "Colours, letters, words and signs used on every page.", body)


def conversion_page(
    templates: Path, view: ConversionView, found_drawing: str, fitted_drawing: str,
    circuit: CircuitSheet,
) -> SitePage:
    """Return a conversion page, with its two wiring drawings as DOT text and its circuit."""
    body = _fill(templates, "conversion.html", view=view, undrawn=circuit.undrawn)
    return SitePage(f"conversions/{view.name}.md", view.words.name, view.words.about, body,
                    drawings={"found": found_drawing, "fitted": fitted_drawing,
                              "circuit": draw_circuit(circuit)}, weight=4,
                    files={f"conversions/{view.name}.csv": materials_csv(view.materials)})


def survey_page(templates: Path, view: ConversionView) -> SitePage:
    """Return the sheet that is filled in on site before a conversion is quoted."""
    body = _fill(templates, "survey.html", view=view)
    return SitePage(f"surveys/{view.name}.md", f"Survey: {view.words.name}",
                    "What to look at before quoting, and what to do where it is not so.", body)


def system_page(
    templates: Path, view: SystemView, drawing: str, circuit: CircuitSheet
) -> SitePage:
    """Return a system page with its wiring drawing as DOT text, and its circuit."""
    body = _fill(templates, "system.html", view=view, undrawn=circuit.undrawn)
    return SitePage(f"systems/{view.name}.md", view.wall.system.name, view.wall.system.about, body,
                    drawings={"wiring": drawing, "circuit": draw_circuit(circuit)}, weight=2)


def cables_page(templates: Path, cables: tuple[tuple[str, Cable], ...]) -> SitePage:
    """Return the one page that lists every kind of cable."""
    body = _fill(templates, "cables.html", cables=cables)
    return SitePage("parts/cables.md", "Cables", "Cores, cross-section, current and heat "
                    "resistance of every cable the handbook uses.", body)


def part_page(templates: Path, view: PartView, inside: InnerSheet) -> SitePage:
    """Return a part page with the drawing of its inside."""
    body = _fill(templates, "part.html", view=view)
    return SitePage(f"parts/{view.name}.md", _sentence(view.part.name), view.part.about, body,
                    drawings={"inside": draw_inner(inside)})


def rule_page(templates: Path, view: RuleView, text: str) -> SitePage:
    """Return a rule's page: its own Markdown, then what it rests on and where it was asked."""
    shown = FENCE.sub(_folded, text)
    frame = _fill(templates, "rule.html", view=view)
    return SitePage(f"rules/{view.rule.name}.md", view.rule.fault, view.rule.fault,
                    f"{shown.rstrip()}\n\n{frame}", markdown=True, weight=0.5)


def _folded(fence: re.Match[str]) -> str:
    """Return a wiring that opens on a tap: a reader on a phone wants the words first."""
    kind, wiring = fence.groups()
    return (f'<details class="hb-wiring-text"><summary>The {kind} wiring, as a recipe</summary>'
            f"<pre><code>{escape(wiring)}</code></pre></details>")


def findings_page(templates: Path, findings: tuple[Finding, ...]) -> SitePage:
    """Return the page that stands in for the whole handbook while something is wrong."""
    body = _fill(templates, "findings.html", findings=findings)
    return SitePage("index.md", "Not fit to publish", "What has to be mended first.", body)
