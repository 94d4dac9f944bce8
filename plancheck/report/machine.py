"""The JSON report: our own format, versioned, described by schemas/report.schema.json."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from typing import Any

from plancheck.errors import Problem
from plancheck.report.data import Finding, Missing, PlanReport, Remark, WaivedFinding

FORMAT = 1


def json_report(reports: Iterable[PlanReport], unread: Iterable[Problem], more_unread: int = 0) -> str:
    """All plans of one call as JSON text; the same input gives the same bytes."""
    plans = list(reports)
    cautions = list(dict.fromkeys(caution for plan in plans for caution in plan.cautions))
    whole = {
        "plancheck": FORMAT,
        "plans": [_plan(plan) for plan in plans],
        "unread": [_problem(problem) for problem in unread],
        "more_unread": more_unread,
        "cautions": cautions,
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def _plan(plan: PlanReport) -> dict[str, Any]:
    return {
        "file": plan.file,
        "sha256": hashlib.sha256(plan.raw).hexdigest(),
        "title": plan.title,
        "code": plan.code,
        "stage": plan.stage,
        "judged_on": plan.judged_on,
        "verdict": plan.verdict,
        "decided": plan.decided,
        "counts": dict(plan.counts),
        "findings": [_finding(one) for one in plan.findings],
        "not_shown": [_missing(one) for one in plan.not_shown],
        "on_site": [_remark(one) for one in plan.on_site],
        "later": [_remark(one) for one in plan.later],
        "crashed": [{"rule": one.rule, "path": one.path, "what": one.says} for one in plan.crashed],
        "waived": [_waived(one) for one in plan.waived],
        "accepted": [_finding(one) for one in plan.accepted],
        "stale": [one._asdict() for one in plan.stale],
        "tally": {rule: dict(counts) for rule, counts in plan.tally.items()},
        "remarks": list(plan.remarks),
        "cautions": list(plan.cautions),
    }


def _finding(one: Finding) -> dict[str, Any]:
    measured = {"value": one.measured.value, "unit": one.measured.unit} if one.measured else None
    limit = None
    if one.limit:
        limit = {
            "id": one.limit.id,
            "value": one.limit.value,
            "unit": one.limit.unit,
            "source": one.limit.source,
            "clause": one.limit.clause,
            "read": one.limit.read,
            "authority": one.limit.authority,
            "because": one.limit.because,
            "instead": one.limit.instead,
        }
    return {
        "number": one.number,
        "rule": one.rule,
        "severity": one.severity,
        "station": one.station,
        "place": one.place,
        "path": one.path,
        "line": one.line,
        "column": one.column,
        "note": one.note,
        "subject": one.subject,
        "cause": one.cause,
        "says": one.says,
        "found": one.found,
        "needed": one.needed,
        "why": one.why,
        "measured": measured,
        "limit": limit,
        "mend": one.mend,
        "ask": one.ask,
        "caution": one.caution,
        "under": one.under,
        "tie": one.tie,
        "file": one.file,
    }


def _missing(one: Missing) -> dict[str, Any]:
    return {"rule": one.rule, "path": one.path, "subject": one.subject, "needs": one.needs, "says": one.says}


def _remark(one: Remark) -> dict[str, Any]:
    return {"rule": one.rule, "path": one.path, "subject": one.subject, "station": one.station, "says": one.says}


def _waived(one: WaivedFinding) -> dict[str, Any]:
    more = {"because": one.because, "by": one.by, "until": one.until, "authority": one.authority}
    return {**_finding(one.finding), **more}


def _problem(one: Problem) -> dict[str, Any]:
    return {"file": one.file, "line": one.line, "column": one.column, "says": one.says, "mend": one.mend}
