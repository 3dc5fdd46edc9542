"""Findings as JSON; the form is described in DEVELOPERS.md and does not change."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from generator.findings import Finding, Place


def findings_json(findings: Iterable[Finding]) -> str:
    """Return one object with the list `findings`."""
    return json.dumps({"findings": [_finding(f) for f in findings]}, indent=2, ensure_ascii=False)


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "message": finding.message,
        "places": [_place(place) for place in finding.places],
        "found": finding.found,
        "expected": finding.expected,
        "hint": finding.hint,
        "state": dict(finding.state),
        "path": list(finding.path),
    }


def _place(place: Place) -> dict[str, Any]:
    return {"file": place.file, "line": place.line, "column": place.column, "note": place.note}
