"""Waivers of a plan: accepted findings with a reason, a name and an end. One that is incomplete, past or matches nothing
is not applied, and that is said."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import Waiver
from plancheck.report.data import Finding, WaivedFinding


def apply_waivers(
    facts: Facts, findings: list[Finding], rules: frozenset[str]
) -> tuple[list[Finding], tuple[WaivedFinding, ...], tuple[str, ...]]:
    """The findings that stay, those waived, and what is to be said of waivers that were not applied."""
    remarks: list[str] = []
    waived: list[WaivedFinding] = []
    for number, waiver in enumerate(facts.plan.waivers, 1):
        fault = _fault(waiver, facts.today, rules)
        if fault:
            remarks.append(f"Waiver {number} is not applied: {fault}.")
            continue
        met = [one for one in findings if one.rule == waiver.rule and _below(one.path, waiver.at or "")]
        if not met:
            remarks.append(f"Waiver {number} ({waiver.rule} at {waiver.at}) matches no finding: take it out.")
        for one in met:
            if one.severity == "hazard":
                remarks.append(f"Waiver {number} is not applied to {one.path}: a hazard is not waived here.")
            else:
                findings.remove(one)
                waived.append(WaivedFinding(one, waiver.because or "", waiver.by or "", waiver.until or ""))
    return findings, tuple(waived), tuple(remarks)


def _fault(waiver: Waiver, today: str, rules: frozenset[str]) -> str:
    for key in ("rule", "at", "because", "by", "until"):
        if not getattr(waiver, key):
            return f"it does not say '{key}'"
    if waiver.rule not in rules:
        return f"there is no rule '{waiver.rule}'"
    if (waiver.until or "") < today:
        return f"it ended on {waiver.until}"
    return ""


def _below(path: str, at: str) -> bool:
    at = at.rstrip("/")
    return path == at or path.startswith(f"{at}/")
