"""The flat circuit of each flagship system as plain text, held against a file.

After an intended change, look at what differs and then write the files anew with
`HANDBOOK_WRITE_SNAPSHOTS=1 pytest tests/circuit/test_snapshots.py`; that run fails on purpose, so
that no run that wrote them counts as a test.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.circuit.flagship import WALLS, system

SNAPSHOTS = Path(__file__).with_name("snapshots")


@pytest.mark.parametrize("wall", WALLS)
def test_the_flat_circuit_prints_as_it_did(wall: str) -> None:
    subject = system(wall)
    text, file = subject.circuit.text(), SNAPSHOTS / f"{subject.wall.name}.txt"
    if os.environ.get("HANDBOOK_WRITE_SNAPSHOTS") == "1":
        file.write_text(text, encoding="utf-8")
        pytest.fail(f"{file.name} was written anew")
    assert text == file.read_text(encoding="utf-8")


def test_there_is_one_snapshot_for_each_system_and_no_other() -> None:
    assert {path.stem for path in SNAPSHOTS.glob("*")} == {system(w).wall.name for w in WALLS}
