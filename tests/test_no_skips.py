"""The variable that turns a skip into a failure, tried on small test suites of its own."""

from pathlib import Path

import pytest

pytest_plugins = ["pytester"]

PASSING = "def test_passes():\n    assert True\n"
SKIPPED = "import pytest\n\n\ndef test_skipped():\n    pytest.skip('no such program')\n"
SKIPPED_MODULE = "import pytest\n\npytest.importorskip('no_such_library')\n"
NEEDS_SIMULATOR = (
    "import pytest\n\n\n@pytest.mark.ngspice\ndef test_simulates():\n    assert True\n"
)


@pytest.fixture
def suite(pytester: pytest.Pytester) -> pytest.Pytester:
    pytester.makeconftest(Path(__file__).with_name("conftest.py").read_text(encoding="utf-8"))
    return pytester


@pytest.mark.parametrize("skipping", [SKIPPED, SKIPPED_MODULE])
def test_a_skip_fails_the_run_where_skips_are_refused(suite, monkeypatch, skipping):
    monkeypatch.setenv("HANDBOOK_NO_SKIPS", "1")
    suite.makepyfile(test_passing=PASSING, test_skipping=skipping)
    run = suite.runpytest_subprocess()
    assert run.ret == pytest.ExitCode.TESTS_FAILED
    run.stdout.fnmatch_lines(["HANDBOOK_NO_SKIPS=1: 1 skipped, and here a skip is a failure"])


@pytest.mark.parametrize("skipping", [SKIPPED, SKIPPED_MODULE])
def test_a_skip_is_let_through_elsewhere(suite, monkeypatch, skipping):
    monkeypatch.delenv("HANDBOOK_NO_SKIPS", raising=False)
    suite.makepyfile(test_passing=PASSING, test_skipping=skipping)
    assert suite.runpytest_subprocess().ret == pytest.ExitCode.OK


def test_a_run_without_skips_passes_where_skips_are_refused(suite, monkeypatch):
    monkeypatch.setenv("HANDBOOK_NO_SKIPS", "1")
    suite.makepyfile(PASSING)
    assert suite.runpytest_subprocess().ret == pytest.ExitCode.OK


def test_a_mark_skips_where_its_program_is_absent_and_says_how_to_get_it(suite, monkeypatch):
    monkeypatch.delenv("HANDBOOK_NO_SKIPS", raising=False)
    monkeypatch.setenv("PATH", str(suite.path))
    suite.makepyfile(NEEDS_SIMULATOR)
    run = suite.runpytest_subprocess("-rs")
    run.assert_outcomes(skipped=1, warnings=1)
    run.stdout.fnmatch_lines(["*ngspice is not on PATH: apt-get install ngspice*"])
