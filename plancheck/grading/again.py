"""Resubmission: what a candidate has mended since an earlier result, what is new, what is still there."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from plancheck.errors import Problem, Unreadable
from plancheck.grading.machine import FORMAT
from plancheck.grading.results import Change, Graded
from plancheck.reading import load_bytes

Before = Mapping[str, Mapping[tuple[str, str], Change]]  # by candidate, then by rule and path


def load_before(file: str) -> Before:
    """The findings of an earlier result. Raises Unreadable where the file is none."""
    raw = load_bytes(file)
    try:
        data = json.loads(raw)
    except ValueError as wrong:
        raise _wrong(file, getattr(wrong, "lineno", 0), "the file is no JSON") from None
    if not isinstance(data, dict) or data.get("plancheck") != FORMAT or not isinstance(data.get("candidates"), list):
        raise _wrong(file, 1, "the file is no result of grading")
    try:
        return {one["candidate"]: dict(_change(finding) for finding in one["findings"]) for one in data["candidates"]}
    except (KeyError, TypeError):
        raise _wrong(file, 1, "the file is no whole result of grading") from None


def _change(finding: Mapping[str, Any]) -> tuple[tuple[str, str], Change]:
    found = Change(finding["rule"], finding["path"], finding["severity"], finding["says"])
    return (found.rule, found.path), found


def _wrong(file: str, line: int, says: str) -> Unreadable:
    mend = "name the JSON that an earlier grade wrote with --report json"
    return Unreadable((Problem(file, line, 1 if line else 0, says, mend),))


def with_changes(one: Graded, before: Before) -> Graded:
    """The submission with what changed since; unchanged where the candidate was not there or cannot be read now."""
    earlier = before.get(one.candidate)
    if earlier is None or one.report is None:
        return one
    now = {(found.rule, found.path): found for found in one.report.findings}
    mended = tuple(change for key, change in earlier.items() if key not in now)
    new = tuple(
        Change(found.rule, found.path, found.severity, found.says, found.number) for key, found in now.items() if key not in earlier
    )
    return one._replace(mended=mended, new=new, still=sum(key in earlier for key in now))
