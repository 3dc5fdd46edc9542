"""A build replaces the old site or leaves it as it was; a server shows findings and recovers."""

from __future__ import annotations

import logging
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from mkdocs.commands import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from generator.command_line import CLEAN, FINDINGS, UNREAD, main
from generator.pages import drawing
from generator.plugin import HandbookPlugin
from tests.pages.project import CONVERSION, FITTED, RECEIVER, contents, edit

ABOUT = "A two-zone system whose programmer"
BREAKS = {
    "a finding": (FITTED, "from: X1:3, to: K1:N", "from: X1:2, to: K1:N", FINDINGS),
    "unreadable": (RECEIVER, "kind: part", "kind: [part", UNREAD),
    "a missing part": (FITTED, "is: receiver-two-channel", "is: receiver-three-channel", UNREAD),
}


@pytest.fixture
def old(project: Path) -> dict[str, bytes]:
    """What stands in place of a site before the build, none of which a build would make."""
    (project / "site/deep").mkdir(parents=True)
    (project / "site/index.html").write_text("the old site", encoding="utf-8")
    (project / "site/deep/old.html").write_bytes(b"\xff\x00")
    return contents(project / "site")


def run(project: Path, *words: str) -> int:
    return main(["--project", str(project), *words])


def untouched(project: Path, old: dict[str, bytes]) -> None:
    assert contents(project / "site") == old
    assert {path.name for path in project.iterdir()} == {
        "mkdocs.yml", "recipes", "site", "site_templates"}


def test_a_build_replaces_the_old_site(project, old):
    assert run(project, "build") == CLEAN
    first = contents(project / "site")
    assert not set(old) - {"index.html"} & set(first)
    assert first["index.html"] != old["index.html"]
    edit(project / CONVERSION, ABOUT, "Changed words.")
    assert run(project, "build") == CLEAN
    second = contents(project / "site")
    assert second.keys() == first.keys()
    assert b"Changed words." in second["index.html"]


@pytest.mark.parametrize(("file", "before", "after", "code"), BREAKS.values(), ids=BREAKS)
def test_a_broken_recipe_leaves_the_old_site(project, old, capsys, file, before, after, code):
    edit(project / file, before, after)
    assert run(project, "build") == code
    out, err = capsys.readouterr()
    assert file in out
    assert "The site was left as it was." in out
    assert err == ""
    untouched(project, old)


@pytest.mark.parametrize(("file", "before", "after", "code"), BREAKS.values(), ids=BREAKS)
def test_mkdocs_itself_refuses_before_it_cleans(project, old, caplog, file, before, after, code):
    edit(project / file, before, after)
    config = load_config(str(project / "mkdocs.yml"), strict=True)
    config.plugins.on_startup(command="build", dirty=False)
    with pytest.raises(Abort):
        build.build(config)
    assert file in caplog.text
    untouched(project, old)


def test_mkdocs_builds_without_being_started(project):
    """Programs that only call `build` raise no start-up event."""
    build.build(load_config(str(project / "mkdocs.yml"), strict=True))
    assert (project / "site/conversions").is_dir()


def test_a_warning_of_mkdocs_leaves_the_old_site(project, old, capsys):
    (project / "site_templates/pages/more.md").write_text("# More\n[x](nowhere.md)\n")
    assert run(project, "build") == UNREAD
    assert "nowhere.md" in capsys.readouterr().out
    untouched(project, old)


def test_a_drawing_that_fails_leaves_the_old_site(project, old, capsys, monkeypatch):
    monkeypatch.setattr(drawing, "_PROGRAM", Path("/nonexistent/program"))
    drawing.render.cache_clear()
    assert run(project, "build") == UNREAD
    assert "drawing program did not run" in capsys.readouterr().out
    untouched(project, old)


@pytest.mark.parametrize("text", ["theme: [", "site_name: x\nplugins: [unheard-of]\n", None])
def test_settings_that_cannot_be_used(project, old, capsys, text):
    settings = project / "mkdocs.yml"
    settings.unlink() if text is None else settings.write_text(text, encoding="utf-8")
    assert run(project, "build") == UNREAD
    assert "mkdocs.yml" in capsys.readouterr().out
    assert contents(project / "site") == old


def test_a_site_folder_below_a_folder_that_is_not_there(project):
    edit(project / "mkdocs.yml", "docs_dir:", "site_dir: out/deep/site\ndocs_dir:")
    assert run(project, "build") == CLEAN
    assert (project / "out/deep/site/index.html").is_file()
    assert [path.name for path in (project / "out/deep").iterdir()] == ["site"]


def served(project: Path) -> str:
    """Build as the server does, and return the home page."""
    config = load_config(str(project / "mkdocs.yml"))
    config.plugins.on_startup(command="serve", dirty=False)
    assert isinstance(config.plugins["wiring_handbook"], HandbookPlugin)
    build.build(config, serve_url="http://127.0.0.1:8000/")
    return (project / "site/index.html").read_text(encoding="utf-8")


def test_a_server_shows_findings_and_brings_the_pages_back(project, caplog):
    whole = served(project)
    assert "Not fit to publish" not in whole
    file, before, after, _ = BREAKS["a finding"]
    edit(project / file, before, after)
    with caplog.at_level(logging.ERROR):
        broken = served(project)
    assert "Not fit to publish" in broken
    assert "load-without-neutral" in broken
    assert "load-without-neutral" in caplog.text
    assert not (project / "site/conversions").exists()
    edit(project / file, after, before)
    assert "Not fit to publish" not in served(project)
    assert (project / "site/conversions").is_dir()


def free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port: int = taken.getsockname()[1]
        return port


def fetched(address: str) -> str:
    try:
        with urlopen(address, timeout=5) as answer:
            text: str = answer.read().decode()
            return text
    except (URLError, ConnectionError, TimeoutError):
        return ""


def wait_for(holds: Callable[[], bool], seconds: float = 30) -> None:
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, f"did not come within {seconds} s"
        time.sleep(0.2)


@contextmanager
def serving(project: Path) -> Iterator[str]:
    host = f"127.0.0.1:{free_port()}"
    command = [sys.executable, "-m", "generator.command_line", "--project", str(project),
               "serve", "--address", host]
    with (project / "log").open("wb") as log:
        server = subprocess.Popen(command, stdout=log, stderr=log)
    try:
        wait_for(lambda: "Wiring handbook" in fetched(f"http://{host}/"))
        yield f"http://{host}/"
        # MkDocs may not end while it makes a site: a page is answered only when that is done.
        time.sleep(1)
        wait_for(lambda: "Wiring handbook" in fetched(f"http://{host}/"))
    finally:
        server.send_signal(signal.SIGINT)
        server.wait(20)
    assert server.returncode == 0
    assert "Traceback" not in (project / "log").read_text(encoding="utf-8")


def test_a_real_server_follows_its_recipes(project):
    with serving(project) as home:
        edit(project / CONVERSION, ABOUT, "Changed words.")
        wait_for(lambda: "Changed words." in fetched(home))
        edit(project / RECEIVER, "kind: part", "kind: [part")
        wait_for(lambda: "Not fit to publish" in fetched(home))
        assert RECEIVER in fetched(home)
        edit(project / RECEIVER, "kind: [part", "kind: part")
        wait_for(lambda: "Changed words." in fetched(home))


def test_an_address_that_is_taken(project, capsys):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        address = f"127.0.0.1:{taken.getsockname()[1]}"
        assert run(project, "serve", "--address", address) == UNREAD
    assert address in capsys.readouterr().out


def test_an_address_that_is_none(project, capsys):
    assert run(project, "serve", "--address", "nowhere") == UNREAD
    assert "nowhere" in capsys.readouterr().out
