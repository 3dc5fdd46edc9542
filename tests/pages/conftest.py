"""A site that is built once, and copies of the project that a test may change."""

from pathlib import Path

import pytest

from tests.pages.project import built, copied


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory.mktemp("project"), whole=True)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return copied(tmp_path)
