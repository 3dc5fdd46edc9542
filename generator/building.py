"""Runs MkDocs: a build that replaces the old site only when the new one is whole, or a server."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

# MkDocs 2 is another program; Material says so at every start unless it is told not to.
os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")

from mkdocs.commands import build, serve
from mkdocs.config import load_config


def build_site(config_file: Path) -> Path:
    """Build the site strictly into a folder of its own, then put it in the old one's place.

    Raises MkDocs' own errors; the old site stays until the new one is whole.
    """
    config = load_config(str(config_file), strict=True)
    site = Path(config.site_dir)
    with tempfile.TemporaryDirectory(dir=site.parent, prefix=".site-") as workplace:
        fresh, old = Path(workplace, "new"), Path(workplace, "old")
        config.site_dir = str(fresh)
        config.plugins.on_startup(command="build", dirty=False)
        build.build(config)
        config.plugins.on_shutdown()
        if site.exists():
            site.rename(old)
        shutil.move(fresh, site)
    return site


def serve_site(config_file: Path, address: str) -> None:
    """Serve the site and make it anew at every change, until interrupted."""
    serve.serve(str(config_file), dev_addr=address, livereload=True)
