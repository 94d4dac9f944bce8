"""A plan's report laid out as lines of marked text."""

from collections.abc import Mapping, Sequence

from plancheck.outcomes import OUTCOMES, SEVERITIES
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport, Remark
from plancheck.report.page import Line, Page, Span, clean
from plancheck.report.wishes import wishes

__all__ = ["Line", "Page", "Span", "clean", "lay_out"]

LABELS = ("found", "needed", "why", "mend", "ask", "caution")
_LABEL_WIDTH = 9


def lay_out(report: PlanReport, width: int) -> list[Line]:
    """The lines of one plan's report, wrapped to the width."""
    page = Page(width)
    _head(page, report)
    _findings(page, report)
    _wishes(page, report)
    _by_station(page, "Only a person on site can verify", report.on_site)
    _later(page, report)
    _crashed(page, report)
    _waived(page, report)
    _accepted(page, report)
    _tally(page, report)
    page.heading("Cautions")
    for caution in report.cautions:
        page.entry("- ", caution)
    page.blank()
    page.text(verdict_words(report), "title")
    if report.verdict != "failed" and report.decided:
        page.text(f"{report.decided[:1].upper()}{report.decided[1:]}.", "title")
    return page.lines


def _head(page: Page, report: PlanReport) -> None:
    page.text(report.title, "title")
    page.text(f"{report.file}; {report.code}; stage {report.stage}; judged on {report.judged_on}", "dim")
    for remark in report.remarks:
        page.text(remark, "label")


def _findings(page: Page, report: PlanReport) -> None:
    station = ""
    for one in report.findings:
        if one.under:
            continue
        if one.station != station:
            station = one.station
            page.heading(station)
        else:
            page.blank()
        _finding(page, report, one)
        hanging = [other for other in report.findings if other.under == one.number]
        for other in hanging:
            if other.tie == "follows":
                page.entry(f"{other.number}. follows: ", f"{other.says} ({other.rule})", "label", indent=5)
        _same(page, one, [other for other in hanging if other.tie == "same"])


def _same(page: Page, first: Finding, others: list[Finding]) -> None:
    """What the same line of the plan makes elsewhere: by name, with the mend where that differs."""
    by_mend: dict[str, list[str]] = {}
    for other in others:
        mend = "" if other.mend == first.mend else f". There: {other.mend}"
        by_mend.setdefault(mend, []).append(f"{other.number}. {other.subject}")
    for mend, names in by_mend.items():
        page.entry("the same at: ", f"{', '.join(names)}{mend}", "label", indent=5)


def _finding(page: Page, report: PlanReport, one: Finding) -> None:
    page.numbered(one.number, one.severity, one.subject)
    page.text(one.says, indent=5)
    needed = one.needed
    if one.limit is not None and needed:
        needed = f"{needed} - {source_words(one)}"
    why, ask = _once(page, one, one.why), _once(page, one, one.ask)
    for label, text in zip(LABELS, (one.found, needed, why, one.mend, ask, one.caution), strict=True):
        if text:
            page.entry(f"{label:<{_LABEL_WIDTH}}", text, "label", indent=5)
    note = f" ({one.note})" if one.note else ""
    page.entry(
        "", f"{one.rule}, {one.file or report.file} line {one.line}, column {one.column}{note}", mark="place", indent=5
    )


def _once(page: Page, one: Finding, text: str) -> str:
    """The text at its first finding, later a pointer there: ten loose clips have one reason."""
    first = page.said.setdefault(text, one.number)
    return text if first == one.number or not text else f"as at {first}"


def source_words(one: Finding) -> str:
    """Where the limit of a finding stands, and what a local authority made of it."""
    if one.limit is None:
        return "common practice"
    amended = f", {one.limit.amended}" if one.limit.amended else ""
    if one.limit.read == "common practice":
        return f"common practice{amended}"
    clause = f" {one.limit.clause}" if one.limit.clause else ""
    return f"{one.limit.source}{clause}, {one.limit.read}{amended}"


def _wishes(page: Page, report: PlanReport) -> None:
    if not report.not_shown:
        return
    page.heading("Not shown: what the plan does not say")
    for wish in wishes(report.not_shown):
        page.entry("- ", wish)


def _by_station(page: Page, heading: str, remarks: tuple[Remark, ...]) -> None:
    if not remarks:
        return
    page.heading(heading)
    for station, subjects, says in to_see(remarks):
        page.entry("[ ] ", f"{station}, {_names(subjects)}: {says}")


def to_see(remarks: Sequence[Remark]) -> list[tuple[str, Sequence[str], str]]:
    """What a person on site has to look at, by station: the same words once, with all their subjects."""
    grouped: dict[str, dict[str, dict[str, None]]] = {}
    for remark in remarks:
        grouped.setdefault(remark.station, {}).setdefault(remark.says, {})[remark.subject] = None
    return [(station, list(names), says) for station, words in grouped.items() for says, names in words.items()]


def _names(subjects: Sequence[str]) -> str:
    shown = ", ".join(subjects[:4])
    return f"{shown} and {len(subjects) - 4} more" if len(subjects) > 4 else shown


def _later(page: Page, report: PlanReport) -> None:
    if report.later:
        page.heading("Later")
        for text, count in later_of(report.later):
            page.entry("- ", f"{text} ({count})")


def later_of(remarks: Sequence[Remark]) -> list[tuple[str, int]]:
    """What is for a later stage, the same words once with their number."""
    counts: dict[str, int] = {}
    for remark in remarks:
        counts[f"{remark.rule}: {remark.says}"] = counts.get(f"{remark.rule}: {remark.says}", 0) + 1
    return list(counts.items())


def _crashed(page: Page, report: PlanReport) -> None:
    if report.crashed:
        page.heading("Rules that failed (nothing is known of these)")
        for remark in report.crashed:
            page.entry("- ", f"{remark.rule} at {remark.path or '/'}: {remark.says}", mark="hazard")


def _waived(page: Page, report: PlanReport) -> None:
    if report.waived:
        page.heading("Waived")
        for one in report.waived:
            by = f"{one.by} for {one.authority}" if one.authority else one.by
            words = f"{one.finding.says} Waived by {by} until {one.until}: {one.because.rstrip('.')}."
            page.entry("- ", f"{one.finding.severity}, {one.finding.rule} at {one.finding.path}: {words}")


def _accepted(page: Page, report: PlanReport) -> None:
    if report.accepted:
        page.heading("Accepted before, told no more")
        subjects: dict[str, list[str]] = {}
        for one in report.accepted:
            subjects.setdefault(f"{one.severity}, {one.rule}", []).append(one.subject)
        for head, names in subjects.items():
            page.entry("- ", f"{head} ({len(names)}): {_names(names)}")
    if report.stale:
        page.heading("Accepted before and found no more: record anew with --accept")
        for gone in report.stale:
            page.entry("- ", f"{gone.severity}, {gone.rule} at {gone.path}: {gone.says}")


def _tally(page: Page, report: PlanReport) -> None:
    """A line for each rule with more to say than that all holds; the others told together, by name and number."""
    page.heading("Tally")
    tally = tally_of(report)
    widest = max(map(len, tally.told), default=4)
    for rule, counts in tally.told.items():
        said = ", ".join(f"{counts[kind]} {kind}" for kind in OUTCOMES if counts[kind])
        page.entry(f"{rule:<{widest}}  ", f"{sum(counts.values())} looked at: {said}")
    if tally.held:
        page.entry("All holds: ", f"{', '.join(f'{rule} {total}' for rule, total in tally.held.items())}.")
    if tally.absent:
        page.entry("Not in this plan: ", f"{', '.join(tally.absent)}.")


class Tally(NamedTuple):
    """A report's tally in three: rules with more to say than that all holds, those of which all holds with the number of
    their subjects, those with nothing to look at."""

    told: Mapping[str, Mapping[str, int]]
    held: Mapping[str, int]
    absent: Sequence[str]


def tally_of(report: PlanReport) -> Tally:
    """The tally of a report, taken apart."""
    totals = {rule: sum(counts.values()) for rule, counts in report.tally.items()}
    told = {rule: counts for rule, counts in report.tally.items() if counts["holds"] != totals[rule]}
    held = {rule: total for rule, total in totals.items() if total and rule not in told}
    return Tally(told, held, [rule for rule, total in totals.items() if not total])


def verdict_words(report: PlanReport) -> str:
    """What was found, counted, in a line."""
    found = ", ".join(_count(report.counts[severity], severity) for severity in SEVERITIES if report.counts[severity])
    rest = [f"{report.counts['not shown']} not shown", f"{report.counts['on site']} on site"]
    if report.verdict == "failed":
        return f"A rule failed: this report is not whole. {found or 'No findings'} in what was judged."
    return f"{found or 'No findings in what was judged'}; {', '.join(rest)}."


def _count(number: int, severity: str) -> str:
    plural = {"hazard": "hazards", "correction": "corrections", "advice": "pieces of advice"}
    single = "piece of advice" if severity == "advice" else severity
    return f"{number} {single if number == 1 else plural[severity]}"
