"""The findings as SARIF 2.1.0 (OASIS), for whatever shows results of checks beside the files they are about.

Findings are results of kind fail; what is not shown is `open`, what a person has to see is `review`, what is judged at a
later stage is `notApplicable`: none of these counts as a failure. Waived and accepted findings are suppressed results.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from typing import Any

from plancheck import __version__
from plancheck.loader import LoadedRule
from plancheck.outcomes import SEVERITIES
from plancheck.report.data import Finding, PlanReport, Result, WaivedFinding
from plancheck.report.page import clean
from plancheck.report.regions import Place, Regions
from plancheck.report.rulewords import LEVELS, descriptor, escaped, waiver_descriptor
from plancheck.report.sarifwhere import ROOT, artifact_location
from plancheck.report.waivers import RULE as WAIVER

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
ENDED = {0: "nothing at or above the stop level", 1: "findings", 2: "something could not be read", 3: "a rule failed"}


def sarif_report(result: Result, rules: Sequence[LoadedRule]) -> str:
    """All plans of one call as one SARIF run; the same input from the same folder gives the same text."""
    numbers = {rule.id: number for number, rule in enumerate(rules)}
    results = [one for report in result.reports for one in _Plan(report, numbers, result.must_show).results()]
    described = [descriptor(rule) for rule in rules]
    if any(one["ruleId"] == WAIVER for one in results):
        described.append(waiver_descriptor())
    cautions = dict.fromkeys(caution for report in result.reports for caution in report.cautions)
    run = {
        "tool": {"driver": {"name": "plancheck", "semanticVersion": __version__, "rules": described}},
        "invocations": [_invocation(result, numbers)],
        "originalUriBaseIds": {ROOT: {"description": {"text": "The folder in which plancheck was started."}}},
        "artifacts": [_artifact(report) for report in result.reports],
        "newlineSequences": ["\r\n", "\n", "\r"],
        "columnKind": "unicodeCodePoints",
        "results": results,
        "properties": {"stopAt": result.stop_at, "cautions": list(cautions)},
    }
    whole = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(_visible(whole), indent=1, ensure_ascii=False) + "\n"


def _visible(value: Any) -> Any:
    """The data with control characters and direction marks in its texts made visible, line ends kept."""
    if isinstance(value, dict):
        return {_visible(key): _visible(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_visible(one) for one in value]
    if isinstance(value, str) and not value.isprintable():
        return "\n".join(map(clean, value.split("\n")))
    return value


class _Plan:
    """The results on one plan."""

    def __init__(self, report: PlanReport, rules: dict[str, int], must_show: frozenset[str]) -> None:
        self._report = report
        self._rules = rules
        self._must_show = must_show
        self._regions = Regions(report.raw)

    def results(self) -> Iterator[dict[str, Any]]:
        """Findings as in the punch list, then what is suppressed, then what is no finding."""
        report = self._report
        for one in report.findings:
            yield self._finding(one)
        for waived in report.waived:
            yield {**self._finding(waived.finding), "suppressions": [_waiver(waived)]}
        for one in report.accepted:
            why = "Found before, and recorded then as accepted."
            suppression = {"kind": "external", "status": "accepted", "justification": why}
            yield {**self._finding(one), "suppressions": [suppression]}
        for missing in report.not_shown:
            counts = "all" in self._must_show or missing.rule in self._must_show
            kind, level = ("fail", "warning") if counts else ("open", "none")
            says = f"Not shown: {missing.says}"
            more = {"needs": missing.needs} if missing.needs else {}
            yield self._result(missing.rule, kind, level, says, missing.path, missing.subject, more)
        for remark in report.on_site:
            says = f"On site: {remark.says}"
            yield self._result(remark.rule, "review", "none", says, remark.path, remark.subject, {})
        for remark in report.later:
            says = f"Later: {remark.says}"
            yield self._result(remark.rule, "notApplicable", "none", says, remark.path, remark.subject, {})

    def _finding(self, one: Finding) -> dict[str, Any]:
        place, region = (one.line, one.column), {}
        if one.line:
            end = None if one.file else self._regions.end(place)
            region = {"region": _region(place, end)}
        where = {"artifactLocation": artifact_location(one.file or self._report.file), **region}
        limit = one.limit
        more = {
            "severity": one.severity,
            "number": one.number,
            "under": one.under,
            "tie": one.tie,
            "station": one.station,
            "measured": one.measured._asdict() if one.measured else None,
            "limit": limit._asdict() if limit else None,
            "cause": one.cause,
        }
        return {
            **self._head(one.rule, "fail", LEVELS[one.severity], _message(one)),
            "locations": [{"physicalLocation": where, "logicalLocations": _logical(one.path, one.subject)}],
            "partialFingerprints": _fingerprints(one),
            "properties": {key: value for key, value in more.items() if value not in (None, "", 0)},
        }

    def _head(self, rule: str, kind: str, level: str, says: str) -> dict[str, Any]:
        number = self._rules.get(rule, len(self._rules))  # the waivers' own stands behind all others
        return {"ruleId": rule, "ruleIndex": number, "kind": kind, "level": level, "message": {"text": _text(says)}}

    def _result(
        self, rule: str, kind: str, level: str, says: str, path: str, subject: str, more: dict[str, Any]
    ) -> dict[str, Any]:
        place = self._regions.place(path)
        region = _region(place, self._regions.end(place))
        where = {"artifactLocation": artifact_location(self._report.file), "region": region}
        return {
            **self._head(rule, kind, level, f"{subject}: {says}"),
            "locations": [{"physicalLocation": where, "logicalLocations": _logical(path, subject)}],
            "partialFingerprints": {"rulePath/v1": _hashed(rule, path), "ruleSubject/v1": _hashed(rule, path, subject, "")},
            **({"properties": more} if more else {}),
        }


def _message(one: Finding) -> str:
    said = (("found", one.found), ("needed", one.needed), ("mend", one.mend), ("caution", one.caution))
    return "\n".join((f"{one.subject}: {one.says}", *(f"{label}: {text}" for label, text in said if text)))


def _text(text: str) -> str:
    """The text for a message: only text, no placeholder and no link."""
    text = escaped(text)
    return text.replace("[", "\\[").replace("]", "\\]") if "](" in text else text


def _region(start: Place, end: Place | None) -> dict[str, int]:
    region = {"startLine": start[0], "startColumn": start[1]}
    return region if end is None else {**region, "endLine": end[0], "endColumn": end[1]}


def _logical(path: str, subject: str) -> list[dict[str, Any]]:
    return [{"name": subject, "fullyQualifiedName": path or "/"}]


def _fingerprints(one: Finding) -> dict[str, str]:
    """By rule and path; and, for those that share both, by subject and limit as well. No line, no number."""
    limit = one.limit.id if one.limit else ""
    return {
        "rulePath/v1": _hashed(one.rule, one.path),
        "ruleSubject/v1": _hashed(one.rule, one.path, one.subject, limit),
    }


def _hashed(*parts: str) -> str:
    text = "\0".join(parts).encode("utf-8", "backslashreplace")
    return hashlib.sha256(text).hexdigest()


def _waiver(waived: WaivedFinding) -> dict[str, Any]:
    by = f"{waived.by} for {waived.authority}" if waived.authority else waived.by
    says = f"{waived.because.rstrip('.')}. Waived by {by} until {waived.until}."
    kind = "external" if waived.file else "inSource"
    return {"kind": kind, "status": "accepted", "justification": says}


def _artifact(report: PlanReport) -> dict[str, Any]:
    tally = {rule: {kind: number for kind, number in counts.items() if number} for rule, counts in report.tally.items()}
    return {
        "location": artifact_location(report.file),
        "length": len(report.raw),
        "roles": ["analysisTarget"],
        "encoding": "utf-8",
        "hashes": {"sha-256": hashlib.sha256(report.raw).hexdigest()},
        "properties": {
            "title": report.title,
            "code": report.code,
            "stage": report.stage,
            "judgedOn": report.judged_on,
            "verdict": report.verdict,
            "decided": report.decided,
            "findings": {severity: report.counts[severity] for severity in SEVERITIES},
            "remarks": list(report.remarks),
            "stale": [one._asdict() for one in report.stale],
            "tally": {rule: counts for rule, counts in tally.items() if counts},
        },
    }


def _invocation(result: Result, rules: dict[str, int]) -> dict[str, Any]:
    notes: list[dict[str, Any]] = []
    for report in result.reports:
        for one in report.crashed:
            where = {"physicalLocation": {"artifactLocation": artifact_location(report.file)}}
            notes.append({
                "level": "error",
                "message": {"text": _text(f"{one.rule} failed at {one.path or '/'}: {one.says}")},
                "locations": [{**where, "logicalLocations": _logical(one.path, one.subject)}],
                "associatedRule": {"id": one.rule, "index": rules[one.rule]},
            })  # fmt: skip
    for problem in result.unread:
        region = {"region": _region((problem.line, max(1, problem.column)), None)} if problem.line else {}
        where = {"physicalLocation": {"artifactLocation": artifact_location(problem.file), **region}}
        says = f"This file could not be read: {problem.says}" + (f"\nmend: {problem.mend}" if problem.mend else "")
        notes.append({"level": "error", "message": {"text": _text(says)}, "locations": [where]})
    return {
        "executionSuccessful": result.number < 2,
        "exitCode": result.number,
        "exitCodeDescription": ENDED[result.number],
        "toolExecutionNotifications": notes,
    }
