"""Skips: a mark skips where its program is absent, and the whole run fails where asked to."""

import os
import shutil

import pytest

# Mark: the program it needs, the Debian package that brings it.
NEEDED = {
    "neato": ("neato", "graphviz"),
    "browser": ("chromium", "chromium"),
    "ngspice": ("ngspice", "ngspice"),
}


def pytest_runtest_setup(item: pytest.Item) -> None:
    for mark, (program, package) in NEEDED.items():
        if item.get_closest_marker(mark) and shutil.which(program) is None:
            pytest.skip(f"{program} is not on PATH: apt-get install {package}")


def skips(config: pytest.Config) -> int:
    reporter = config.pluginmanager.get_plugin("terminalreporter")
    return len(reporter.stats.get("skipped", []))


def skips_are_failures() -> bool:
    return os.environ.get("HANDBOOK_NO_SKIPS") == "1"


def pytest_sessionfinish(session: pytest.Session) -> None:
    # A run that failed already keeps its own exit status.
    if skips_are_failures() and skips(session.config) and session.exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    if skips_are_failures() and skips(config):
        terminalreporter.write_line(
            f"HANDBOOK_NO_SKIPS=1: {skips(config)} skipped, and here a skip is a failure", red=True
        )
