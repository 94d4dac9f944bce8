"""Resubmission: what a candidate has mended since an earlier result, what is new, what is still there."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from typing import Any

from plancheck.errors import Problem, Unreadable
from plancheck.grading.machine import FORMAT
from plancheck.grading.results import Change, Graded
from plancheck.outcomes import BROKEN, HOLDS
from plancheck.reading import load_bytes
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport

Found = Mapping[tuple[str, str], Change]  # by rule and path


class Before(NamedTuple):
    """An earlier result: the findings of each candidate whose plan could be read then, all totals, the rubric it rests on."""

    findings: Mapping[str, Found]
    totals: Mapping[str, float]
    rubric_sha256: str


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
        found = {one["candidate"]: dict(map(_change, one["findings"])) for one in data["candidates"] if not one["unread"]}
        totals = {one["candidate"]: float(one["total"]) for one in data["candidates"]}
        return Before(found, totals, str(data["made"]["rubric_sha256"]))
    except (KeyError, TypeError, ValueError):
        raise _wrong(file, 1, "the file is no whole result of grading") from None


def _change(finding: Mapping[str, Any]) -> tuple[tuple[str, str], Change]:
    found = Change(finding["rule"], finding["path"], finding["severity"], finding["says"])
    return (found.rule, found.path), found


def _wrong(file: str, line: int, says: str) -> Unreadable:
    mend = "name the JSON that an earlier grade wrote with --report json"
    return Unreadable((Problem(file, line, 1 if line else 0, says, mend),))


def with_changes(one: Graded, before: Before) -> Graded:
    """The submission with what changed since; unchanged where the candidate's plan was not there or cannot be read.

    What is told no more is mended only where its rule judges that place of the plan still: what the plan says no more, or
    no more enough of, is gone and not mended.
    """
    one = one._replace(total_before=before.totals.get(one.candidate))
    earlier = before.findings.get(one.candidate)
    if earlier is None or one.report is None:
        return one
    now = {(found.rule, found.path): found for found in one.report.findings}
    silent = {missing.rule for missing in one.report.not_shown}
    away = {key: change for key, change in earlier.items() if key not in now}
    mended = tuple(change for key, change in away.items() if not _is_unsaid(change, one.report, silent))
    unsaid = tuple(change for key, change in away.items() if _is_unsaid(change, one.report, silent))
    new = tuple(
        Change(found.rule, found.path, found.severity, found.says, found.number) for key, found in now.items() if key not in earlier
    )
    return one._replace(mended=mended, unsaid=unsaid, new=new, still=sum(key in earlier for key in now))


def _is_unsaid(change: Change, report: PlanReport, silent: Collection[str]) -> bool:
    """Whether the rule of a finding that is told no more cannot judge its thing any more."""
    if change.rule not in silent:
        return False
    thing = _thing(change.path)
    return any(missing.rule == change.rule and _thing(missing.path) in (thing, "") for missing in report.not_shown) or not any(
        report.tally.get(change.rule, {}).get(kind, 0) for kind in (HOLDS, BROKEN)
    )


def _thing(path: str) -> str:
    """The part, run or other thing that a path is about."""
    return "/".join(path.strip("/").split("/")[:2])
