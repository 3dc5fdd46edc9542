"""The MkDocs side: pages made in memory, drawings put in last, findings that stop a build."""

from __future__ import annotations

import json
import logging
import re
from collections.abc import Iterable
from html import escape
from pathlib import Path
from typing import Any, Literal

from mkdocs.config.base import Config
from mkdocs.config.config_options import Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc

from generator.judging.memory import Memory
from generator.pages.drawing import render
from generator.pages.kept import Kept
from generator.pages.site import SitePage
from generator.pipeline import Handbook, check, every_file, publish
from generator.reports.findings_text import finding_text
from generator.sitework.catalogue import EVERY_RULE

log = logging.getLogger("mkdocs.plugins.wiring_handbook")
_DRAWING = re.compile(r"<!--drawing ([a-z-]+)-->")
_ID = re.compile(r'(<[^<>]* id=")')
_RUN_TOGETHER = re.compile(r"(?<!\s)(?=<br>|</t[dh]>|</d[td]>)")
"""Where search would join the words of two lines or cells."""


class Settings(Config):
    """What mkdocs.yml may say under `wiring_handbook`."""

    recipes = Type(str, default="recipes")


class ReadyPage(Page):
    """A page whose HTML is already made; MkDocs only frames it."""

    ready: SitePage

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Take the ready HTML as content, and its headings as the table of contents."""
        self.content = _RUN_TOGETHER.sub(" ", self.ready.body)
        self.toc = get_toc(_tokens(self.ready))


def _tokens(ready: SitePage) -> list[Any]:
    """Return headings as MkDocs wants them: h3 below the h2 before it."""
    tokens: list[Any] = []
    for heading in ready.headings():
        token = {"level": heading.level, "id": heading.anchor, "name": heading.text,
                 "html": escape(heading.text), "children": []}
        (tokens[-1]["children"] if heading.level == 3 and tokens else tokens).append(token)
    return tokens


class HandbookPlugin(BasePlugin[Settings]):
    """Checks the recipes before MkDocs touches the site, then hands over every page."""

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Remember whether pages are served to an author, and what was made for them so far."""
        self.serving = command == "serve"
        self.memory, self.kept = Memory(), Kept()

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Check every recipe; refuse to build on findings, before the old site is cleaned away."""
        recipes = self._folder(config)
        handbook = check(recipes, every_file(recipes), judge=self.memory)
        if handbook.findings and not self.serving:
            raise PluginError(_refusal(handbook))
        for finding in handbook.findings:
            log.error(finding_text(finding))
        pages = publish(handbook, _templates(config), self.kept)
        self.pages = {page.path: page for page in pages}

    def _folder(self, config: MkDocsConfig) -> Path:
        return Path(config.config_file_path).parent / self.config.recipes

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the pages, each with its title and description as front matter, and their files."""
        for page in self.pages.values():
            files.append(_file(page, config))
            for path, text in page.files.items():
                files.append(File.generated(config, path, content=text))
        return files

    def on_page_context(self, context: Any, *, page: Page, config: MkDocsConfig, nav: Any) -> Any:
        """Take away the link to edit a page that is no file."""
        page.edit_url = None
        return context

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Put the drawings in, after the search index was made of the words alone."""
        made = self.pages.get(page.file.src_uri)
        if made is None:
            return output
        return _DRAWING.sub(lambda match: _drawn(match.group(1), made), output)

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any
                 ) -> LiveReloadServer:
        """Make the site anew when a recipe, a template or a rule's page changes."""
        pages = {rule.page.parent for rule in EVERY_RULE}
        for folder in (self._folder(config), _templates(config), *sorted(pages)):
            server.watch(str(folder))
        return server


def _drawn(key: str, page: SitePage) -> str:
    """Return a drawing in which every id begins with its key: two on a page share their parts."""
    return _ID.sub(rf"\g<1>{key}-", render(page.drawings[key]))


def _templates(config: MkDocsConfig) -> Path:
    if not config.theme.custom_dir:
        raise PluginError("mkdocs.yml must say `custom_dir: site_templates` under `theme`.")
    return Path(config.theme.custom_dir)


def _refusal(handbook: Handbook) -> str:
    said: Iterable[str] = (finding_text(finding) for finding in handbook.findings)
    return "\n\n".join(["The recipes are not fit to publish; the site was left as it was.", *said])


def _file(page: SitePage, config: MkDocsConfig) -> File:
    # JSON strings are YAML strings too, so that no title can break the front matter; the theme
    # writes them into pages and their search as they are.
    head = "".join(f"{key}: {json.dumps(escape(text))}\n"
                   for key, text in (("title", page.title), ("description", page.description)))
    head += f"search:\n  boost: {page.weight}\n"
    body = page.body if page.markdown else ""
    file = File.generated(config, page.path, content=f"---\n{head}---\n{body}")
    if not page.markdown:
        made = ReadyPage(None, file, config)
        made.ready = page
        file.page = made
    return file
