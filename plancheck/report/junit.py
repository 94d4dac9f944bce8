"""The report as JUnit XML, as CI servers read it: one suite a plan, one case a rule.

A case fails for findings at or above the stop level. It is skipped where the rule could not be judged whole (not shown),
found nothing to judge, or only what a person or a later stage has to; a rule that did not look must not seem to pass.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as xml

from plancheck.loader import LoadedRule
from plancheck.outcomes import SEVERITIES
from plancheck.report.data import Finding, PlanReport, Result
from plancheck.report.layout import source_words
from plancheck.report.page import clean
from plancheck.report.waivers import RULE as WAIVER

_LABELS = ("found", "needed", "why", "mend", "ask", "caution")


def junit_report(result: Result, rules: Sequence[LoadedRule]) -> str:
    """All plans of one call as one XML document."""
    top = xml.Element("testsuites", {"name": "plancheck"})
    for report in result.reports:
        top.append(_suite(report, rules, result))
    unread: dict[str, list[str]] = {}
    for one in result.unread:
        place = f"line {one.line}, column {one.column}: " if one.line else ""
        unread.setdefault(one.file, []).append(f"{place}{one.says}" + (f" ({one.mend})" if one.mend else ""))
    for file, says in unread.items():
        suite = _named_suite(file)
        case = xml.SubElement(suite, "testcase", {"classname": _one_line(file), "name": "reading"})
        _says(xml.SubElement(case, "error", {"type": "unread"}), says[0], says)
        top.append(_counted(suite))
    xml.indent(top, " ")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{xml.tostring(top, encoding="unicode")}\n'


def _suite(report: PlanReport, rules: Sequence[LoadedRule], result: Result) -> xml.Element:
    suite = _named_suite(report.file)
    properties = xml.SubElement(suite, "properties")
    for name in ("title", "code", "stage", "judged_on", "verdict", "decided"):
        xml.SubElement(properties, "property", {"name": name, "value": _one_line(str(getattr(report, name)))})
    names = [rule.id for rule in rules] + ([WAIVER] if WAIVER in report.tally else [])
    for name in names:
        suite.append(_case(report, name, result))
    return _counted(suite)


def _named_suite(file: str) -> xml.Element:
    return xml.Element("testsuite", {"name": _one_line(file)})


def _counted(suite: xml.Element) -> xml.Element:
    cases = suite.findall("testcase")
    counts = {"tests": len(cases)}
    for name, kind in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
        counts[name] = sum(1 for case in cases if case.find(kind) is not None)
    for name, count in counts.items():
        suite.set(name, str(count))
    return suite


def _case(report: PlanReport, rule: str, result: Result) -> xml.Element:
    case = xml.Element("testcase", {"classname": _one_line(report.file), "name": rule})
    worst = SEVERITIES.index(result.stop_at)
    found = [one for one in report.findings if one.rule == rule]
    stopping = [one for one in found if SEVERITIES.index(one.severity) <= worst]
    rest = [one for one in found if one not in stopping]
    missing = [f"not shown: {one.subject}: {one.says}" for one in report.not_shown if one.rule == rule]
    crashed = [f"{one.path or '/'}: {one.says}" for one in report.crashed if one.rule == rule]
    must = bool(missing) and ("all" in result.must_show or rule in result.must_show)
    if crashed:
        _says(xml.SubElement(case, "error", {"type": "crashed"}), crashed[0], crashed)
    elif stopping or must:
        kind = stopping[0].severity if stopping else "not shown"
        texts = [_words(report, one) for one in stopping] + missing * must
        heads = [one.says for one in stopping] + missing * must
        _says(xml.SubElement(case, "failure", {"type": kind}), _head(heads), texts)
    elif missing or not _looked(report, rule):
        texts = missing or [_why_not(report, rule)]
        _says(xml.SubElement(case, "skipped"), _head(texts), texts)
    others = [_words(report, one) for one in rest] + _remarks(report, rule)
    if missing and case.find("skipped") is None and not must:
        others += missing
    if others:
        xml.SubElement(case, "system-out").text = _lines(others)
    return case


def _looked(report: PlanReport, rule: str) -> bool:
    counts = report.tally.get(rule, {})
    return bool(counts.get("holds") or counts.get("broken"))


def _why_not(report: PlanReport, rule: str) -> str:
    counts = report.tally.get(rule, {})
    left = [f"{counts[kind]} {kind}" for kind in ("on site", "later") if counts.get(kind)]
    return f"nothing judged here: {', '.join(left)}" if left else "nothing of the kind in this plan"


def _remarks(report: PlanReport, rule: str) -> list[str]:
    said = [f"on site: {one.subject}: {one.says}" for one in report.on_site if one.rule == rule]
    said += [f"later: {one.subject}: {one.says}" for one in report.later if one.rule == rule]
    for one in report.waived:
        if one.finding.rule == rule:
            words = f"{one.finding.says} Waived by {one.by} until {one.until}: {one.because}"
            said.append(f"waived: {one.finding.severity}: {one.finding.subject}: {words}")
    said += [f"accepted before: {one.severity}: {one.subject}" for one in report.accepted if one.rule == rule]
    return said


def _words(report: PlanReport, one: Finding) -> str:
    needed = f"{one.needed} - {source_words(one)}" if one.limit is not None and one.needed else one.needed
    lines = [f"{one.number}. {one.severity.upper()}  {one.subject}", one.says]
    texts = (one.found, needed, one.why, one.mend, one.ask, one.caution)
    lines += [f"{label}: {text}" for label, text in zip(_LABELS, texts, strict=True) if text]
    return "\n".join((*lines, f"{one.file or report.file} line {one.line}, column {one.column}, {one.path}"))


def _head(texts: Sequence[str]) -> str:
    return texts[0] if len(texts) == 1 else f"{texts[0]} (and {len(texts) - 1} more)"


def _says(element: xml.Element, head: str, texts: Sequence[str]) -> None:
    element.set("message", _one_line(head))
    element.text = _lines(texts)


def _one_line(text: str) -> str:
    """The text without what XML 1.0 cannot hold; line ends become spaces."""
    return clean(text)


def _lines(texts: Sequence[str]) -> str:
    return "\n\n".join("\n".join(map(clean, text.split("\n"))) for text in texts)
