"""From the rules' answers to a report: findings in the order one walks the house, what was not shown, the tally."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from plancheck.engine import Judged
from plancheck.facts import Facts
from plancheck.loader import LoadedRule
from plancheck.model import Path
from plancheck.outcomes import (
    BROKEN,
    CRASHED,
    HOLDS,
    LATER,
    NOT_SHOWN,
    ON_SITE,
    OUTCOMES,
    SEVERITIES,
)
from plancheck.report.cautions import cautions_for
from plancheck.report.data import Finding, Missing, PlanReport, Remark, WaivedFinding
from plancheck.report.figures import figure, limit_shown, told_apart
from plancheck.report.local import local_remarks, part_accepted
from plancheck.report.order import in_order
from plancheck.report.stations import Stations
from plancheck.report.waivers import apply_waivers

if TYPE_CHECKING:
    from plancheck.accepted import Accepted
    from plancheck.amendments.load import Amendments
    from plancheck.waiverfile import WaiverFile


class Options:
    """What decides a verdict: the stop level, the rules whose `not shown` counts as a finding, and what is local.

    known: the ids of all rules, also of those that are not run today (left out: those that are).
    """

    def __init__(
        self,
        stop_at: str = "correction",
        must_show: frozenset[str] = frozenset(),
        known: frozenset[str] = frozenset(),
        amendments: Amendments | None = None,
        waivers: WaiverFile | None = None,
        accepted: Accepted | None = None,
    ) -> None:
        self.stop_at = stop_at
        self.must_show = must_show
        self.known = known
        self.amendments = amendments
        self.waivers = waivers
        self.accepted = accepted


def pointer(path: Path) -> str:
    """A path as text: /runs/bath-cold/bends/2."""
    return "".join(f"/{step}" for step in path)


def assemble(facts: Facts, rules: tuple[LoadedRule, ...], judged: tuple[Judged, ...], options: Options) -> PlanReport:
    """The report on one plan."""
    stations = Stations(facts)
    words = {rule.id: rule for rule in rules}
    found = [_finding(facts, stations, words[one.rule], one) for one in judged if one.outcome.kind == BROKEN]
    ran = frozenset(words)
    more = options.waivers.for_plan(facts.source.file) if options.waivers is not None else ()
    found, waived, of_waivers = apply_waivers(facts, found, judged, ran, options.known | ran, more)
    judged = (*judged, *of_waivers)
    told, accepted, stale = part_accepted(facts, found, judged, ran, options)
    findings = in_order(told, stations)
    return PlanReport(
        file=facts.source.file,
        raw=facts.source.raw,
        title=facts.plan.job.title or facts.source.file,
        code=code_words(facts),
        stage=facts.stage,
        judged_on=facts.today,
        verdict=_verdict(findings, judged, options),
        counts=_counts(findings, judged, waived, accepted),
        findings=findings,
        not_shown=_missing(facts, judged),
        on_site=_remarks(stations, judged, ON_SITE),
        later=_remarks(stations, judged, LATER),
        crashed=_remarks(stations, judged, CRASHED),
        waived=waived,
        tally=_tally(rules, judged),
        cautions=cautions_for(facts),
        remarks=(*_remarks_on_plan(facts, judged), *local_remarks(facts, rules, accepted, options)),
        decided=_decided(findings, judged, options),
        accepted=accepted,
        stale=stale,
    )


def code_words(facts: Facts) -> str:
    """The code the job is built under, in words."""
    if facts.family is None:
        return "no code named"
    return f"{facts.family.upper()} {facts.edition}" if facts.edition is not None else facts.family.upper()


def _remarks_on_plan(facts: Facts, judged: tuple[Judged, ...]) -> tuple[str, ...]:
    """What the reader of a report has to know first. What a finding tells is not told again, but how the rest is traced."""
    broken = {(one.rule, one.subject.path[-1]) for one in judged if one.outcome.kind == BROKEN}
    found = []
    if facts.plan.job.stage not in ("layout", "rough-in", "finished"):
        found.append("The plan does not say its stage (job.stage): it is judged as at rough-in.")
    if facts.family is None:
        found.append("The plan names no code (code.family): limits that differ by code are not shown.")
    for piece in facts.traced.crossovers:
        told = ("hot_cold_crossover", piece) in broken
        what = "" if told else f"{piece} joins hot and cold where nothing should: take it out. "
        found.append(f"{what}The rest is traced without {piece}; what it keeps wet until then is told at the ports.")
    for heater in sorted(facts.network.swapped):
        told = ("fixture_sides", heater) in broken
        what = "" if told else f"{heater}: its two connections look swapped. Swap them: feed on {heater}/cold. "
        found.append(f"{what}The rest is traced as if the two connections of {heater} were swapped back.")
    return tuple(found)


def _finding(facts: Facts, stations: Stations, rule: LoadedRule, one: Judged) -> Finding:
    outcome, subject = one.outcome, one.subject
    path = outcome.at or subject.path
    place, note = facts.path_of_key(path), ""
    line, column = facts.source.place(place)
    if place != path:
        note = facts.note_of_key(path)
    limit = limit_shown(outcome.limit, facts.units) if outcome.limit is not None else None
    measured = figure(outcome.measured, facts.units) if outcome.measured is not None else None
    found, needed = told_apart(outcome.measured, outcome.limit, facts.units)
    caution = " ".join(filter(None, (outcome.caution, outcome.limit.caution if outcome.limit else None)))
    return Finding(
        number=0,
        rule=one.rule,
        severity=outcome.severity or "advice",
        station=stations.of(subject.path, subject.place),
        place=subject.place or "",
        path=pointer(path),
        line=line,
        column=column,
        note=note,
        subject=subject.name,
        cause=pointer(outcome.cause) if outcome.cause is not None else None,
        says=outcome.says,
        found=outcome.found or found,
        needed=outcome.needed or needed,
        why=outcome.why or rule.words.why,
        measured=measured,
        limit=limit,
        mend=outcome.mend or rule.words.to_mend,
        ask=outcome.ask or rule.words.ask,
        caution=caution,
    )


def _missing(facts: Facts, judged: tuple[Judged, ...]) -> tuple[Missing, ...]:
    return tuple(
        Missing(
            one.rule,
            pointer(one.subject.path),
            one.subject.name,
            pointer(one.outcome.needs[0]) if one.outcome.needs else "",
            one.outcome.says,
        )
        for one in judged
        if one.outcome.kind == NOT_SHOWN
    )


def _remarks(stations: Stations, judged: tuple[Judged, ...], kind: str) -> tuple[Remark, ...]:
    return tuple(
        Remark(
            one.rule,
            pointer(one.subject.path),
            one.subject.name,
            stations.of(one.subject.path, one.subject.place),
            one.outcome.says,
        )
        for one in judged
        if one.outcome.kind == kind
    )


def _tally(rules: tuple[LoadedRule, ...], judged: tuple[Judged, ...]) -> Mapping[str, Mapping[str, int]]:
    tally = {rule.id: dict.fromkeys(OUTCOMES, 0) for rule in rules}
    for one in judged:
        tally.setdefault(one.rule, dict.fromkeys(OUTCOMES, 0))[one.outcome.kind] += 1
    return tally


def _counts(
    findings: tuple[Finding, ...],
    judged: tuple[Judged, ...],
    waived: tuple[WaivedFinding, ...],
    accepted: tuple[Finding, ...],
) -> dict[str, int]:
    counts = dict.fromkeys(SEVERITIES, 0)
    for one in findings:
        counts[one.severity] += 1
    for kind in (HOLDS, NOT_SHOWN, ON_SITE, LATER, CRASHED):
        counts[kind] = sum(1 for one in judged if one.outcome.kind == kind)
    counts["waived"] = len(waived)
    counts["accepted"] = len(accepted)
    return counts


def _verdict(findings: tuple[Finding, ...], judged: tuple[Judged, ...], options: Options) -> str:
    if any(one.outcome.kind == CRASHED for one in judged):
        return "failed"
    return "findings" if _stopping(findings, options) or _unseen(judged, options) else "nothing found"


def _stopping(findings: tuple[Finding, ...], options: Options) -> int:
    """How many findings are at or above the stop level."""
    worst = SEVERITIES.index(options.stop_at)
    return sum(1 for one in findings if SEVERITIES.index(one.severity) <= worst)


def _unseen(judged: tuple[Judged, ...], options: Options) -> tuple[str, ...]:
    """The rules of which `not shown` counts here and did happen."""
    rules = (one.rule for one in judged if one.outcome.kind == NOT_SHOWN)
    return tuple(dict.fromkeys(rule for rule in rules if "all" in options.must_show or rule in options.must_show))


def _decided(findings: tuple[Finding, ...], judged: tuple[Judged, ...], options: Options) -> str:
    """What decided the verdict, in words."""
    if any(one.outcome.kind == CRASHED for one in judged):
        return "a rule failed"
    count, unseen = _stopping(findings, options), _unseen(judged, options)
    reasons = [f"{count or 'nothing'} at or above {options.stop_at}"]
    if unseen:
        reasons.append(f"not shown counts: {', '.join(unseen)}")
    return "; ".join(reasons)
