"""Runs MkDocs: a build that replaces the old site only when the new one is whole, or a server."""

from __future__ import annotations

import logging
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

# MkDocs 2 is another program; Material says so at every start unless it is told not to.
os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")

from mkdocs.commands import build, serve
from mkdocs.config import load_config
from mkdocs.exceptions import MkDocsException

from generator.findings import Place, Unreadable, mistake
from generator.pages.drawing import DrawingError


def build_site(config_file: Path) -> Path:
    """Build the site strictly into a folder of its own, then put it in the old one's place.

    Raises Unreadable with what went wrong; the old site stays until the new one is whole.
    """
    with _failures_said(config_file, "The site was not built and left as it was."):
        config = load_config(str(config_file), strict=True)
        site = Path(config.site_dir)
        site.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=site.parent, prefix=".site-") as workplace:
            fresh, old = Path(workplace, "new"), Path(workplace, "old")
            config.site_dir = str(fresh)
            config.plugins.on_startup(command="build", dirty=False)
            build.build(config)
            config.plugins.on_shutdown()
            _put_in_place(fresh, site, old)
    return site


def _put_in_place(fresh: Path, site: Path, old: Path) -> None:
    if site.exists():
        site.rename(old)
    try:
        shutil.move(fresh, site)
    except BaseException:
        if old.exists() and not site.exists():
            old.rename(site)
        raise


def serve_site(config_file: Path, address: str) -> None:
    """Serve the site and make it anew at every change, until interrupted.

    Raises Unreadable where it cannot begin.
    """
    with _failures_said(config_file, f"`{address}` cannot show the site.", aside=False):
        # MkDocs makes a folder before it reads its settings, and would leave it behind.
        load_config(str(config_file), dev_addr=address)
        serve.serve(str(config_file), dev_addr=address, livereload=True)


class _Told(logging.Handler):
    """Keeps what MkDocs warns of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.texts: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.texts.append(record.getMessage())


@contextmanager
def _failures_said(config_file: Path, message: str, aside: bool = True) -> Iterator[None]:
    """Turn what MkDocs, the drawing program or the disk refuses into a finding.

    `aside` keeps warnings for the finding; otherwise they go where logging sends them.
    """
    told, logger = _Told(), logging.getLogger("mkdocs")
    if aside:
        logger.addHandler(told)
    try:
        yield
    except (MkDocsException, DrawingError, OSError) as error:
        texts = dict.fromkeys([*told.texts, str(error)])
        raise Unreadable([mistake(
            "not-built", message, Place(str(config_file), 1, 1),
            found="; ".join(texts), expected="a build without a warning")]) from error
    finally:
        logger.removeHandler(told)
