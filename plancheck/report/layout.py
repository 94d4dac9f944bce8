"""A report laid out as lines of marked text for a given width; writers only add colour or leave it out.

Every text of a plan passes `clean` on its way in: control characters and marks that turn the writing direction are made
visible, so that a plan cannot write to a terminal.
"""

import textwrap

from plancheck.outcomes import OUTCOMES, SEVERITIES
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport, Remark
from plancheck.report.wishes import wishes

LABELS = ("found", "needed", "why", "mend", "ask", "caution")
_LABEL_WIDTH = 9
_TURNING = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)))
_BREAKS = frozenset("\u2028\u2029\ufeff")


class Span(NamedTuple):
    """A piece of a line and its mark: title, station, hazard, correction, advice, label, place, dim, or plain."""

    text: str
    mark: str = "plain"


Line = tuple[Span, ...]


def clean(text: str) -> str:
    """The text with control characters and direction marks made visible."""
    if text.isprintable():
        return text
    return "".join(character if _harmless(character) else _visible(character) for character in text)


def _harmless(character: str) -> bool:
    return character.isprintable() and character not in _TURNING and character not in _BREAKS


def _visible(character: str) -> str:
    if character in "\n\r\t":
        return " "
    code = ord(character)
    return f"\\x{code:02X}" if code < 256 else f"\\u{code:04X}"


def lay_out(report: PlanReport, width: int) -> list[Line]:
    """The lines of one plan's report, wrapped to the width."""
    page = _Page(width)
    _head(page, report)
    _findings(page, report)
    _wishes(page, report)
    _by_station(page, "Only a person on site can verify", report.on_site)
    _later(page, report)
    _crashed(page, report)
    _waived(page, report)
    _tally(page, report)
    page.heading("Cautions")
    for caution in report.cautions:
        page.entry("- ", caution)
    page.blank()
    page.text(_verdict(report), "title")
    return page.lines


class _Page:
    def __init__(self, width: int) -> None:
        self.width = max(40, width)
        self.lines: list[Line] = []
        self.said: dict[str, int] = {}  # a rule's own why and ask -> the finding at which they stand in full

    def text(self, text: str, mark: str = "plain", indent: int = 0) -> None:
        for line in self._wrapped(clean(text), indent, indent):
            self.lines.append((Span(line, mark),))

    def entry(self, head: str, text: str, head_mark: str = "dim", mark: str = "plain", indent: int = 0) -> None:
        """A text that hangs behind a head."""
        hang = indent + len(head)
        lines = self._wrapped(clean(text), hang, hang)
        first = lines[0][hang:] if lines else ""
        self.lines.append((Span(" " * indent + head, head_mark), Span(first, mark)))
        self.lines.extend((Span(line, mark),) for line in lines[1:])

    def numbered(self, number: int, severity: str, title: str) -> None:
        """The first line of a finding: its number, its severity, its subject."""
        head = f"{number:>3}. {severity.upper()}  "
        lines = self._wrapped(clean(title), len(head), len(head)) or [head]
        first = lines[0][len(head) :]
        marks = (Span(f"{number:>3}. ", "dim"), Span(severity.upper(), severity), Span("  "), Span(first, "title"))
        self.lines.append(marks)
        self.lines.extend((Span(line, "title"),) for line in lines[1:])

    def heading(self, text: str) -> None:
        self.blank()
        self.text(text, "station")

    def blank(self) -> None:
        self.lines.append(())

    def _wrapped(self, text: str, first: int, rest: int) -> list[str]:
        return textwrap.wrap(
            text,
            self.width,
            initial_indent=" " * first,
            subsequent_indent=" " * rest,
            break_on_hyphens=False,
        )


def _head(page: _Page, report: PlanReport) -> None:
    page.text(report.title, "title")
    page.text(f"{report.file}; {report.code}; stage {report.stage}; judged on {report.judged_on}", "dim")
    for remark in report.remarks:
        page.text(remark, "label")


def _findings(page: _Page, report: PlanReport) -> None:
    station = ""
    causes = {one.path: one.cause for one in report.findings}
    for one in report.findings:
        if _root(one, causes) != one.path:
            continue
        if one.station != station:
            station = one.station
            page.heading(station)
        else:
            page.blank()
        _finding(page, report, one)
        for other in report.findings:
            if other.path != one.path and _root(other, causes) == one.path:
                page.entry(f"{other.number}. follows: ", f"{other.says} ({other.rule})", "label", indent=5)


def _root(one: Finding, causes: dict[str, str | None]) -> str:
    """The path of the finding that this one follows from in the end, however many steps away; its own where there is none."""
    seen = [one.path]
    cause = one.cause
    while cause is not None and cause in causes and cause not in seen:
        seen.append(cause)
        cause = causes[cause]
    return seen[-1] if cause not in seen else one.path


def _finding(page: _Page, report: PlanReport, one: Finding) -> None:
    page.numbered(one.number, one.severity, one.subject)
    page.text(one.says, indent=5)
    needed = one.needed
    if one.limit is not None and needed:
        needed = f"{needed} - {_source(one)}"
    why, ask = _once(page, one, one.why), _once(page, one, one.ask)
    for label, text in zip(LABELS, (one.found, needed, why, one.mend, ask, one.caution), strict=True):
        if text:
            page.entry(f"{label:<{_LABEL_WIDTH}}", text, "label", indent=5)
    note = f" ({one.note})" if one.note else ""
    page.entry("", f"{one.rule}, {report.file} line {one.line}, column {one.column}{note}", mark="place", indent=5)


def _once(page: _Page, one: Finding, text: str) -> str:
    """The text at its first finding, later a pointer there: ten loose clips have one reason."""
    first = page.said.setdefault(text, one.number)
    return text if first == one.number or not text else f"as at {first}"


def _source(one: Finding) -> str:
    if one.limit is None or one.limit.read == "common practice":
        return "common practice"
    clause = f" {one.limit.clause}" if one.limit.clause else ""
    return f"{one.limit.source}{clause}, {one.limit.read}"


def _wishes(page: _Page, report: PlanReport) -> None:
    if not report.not_shown:
        return
    page.heading("Not shown: what the plan does not say")
    for wish in wishes(report.not_shown):
        page.entry("- ", wish)


def _by_station(page: _Page, heading: str, remarks: tuple[Remark, ...]) -> None:
    if not remarks:
        return
    page.heading(heading)
    grouped: dict[tuple[str, str], list[str]] = {}
    for remark in remarks:
        subjects = grouped.setdefault((remark.station, remark.says), [])
        if remark.subject not in subjects:
            subjects.append(remark.subject)
    stations = dict.fromkeys(station for station, _ in grouped)
    for station in stations:
        for (where, says), subjects in grouped.items():
            if where == station:
                page.entry("[ ] ", f"{station}, {_names(subjects)}: {says}")


def _names(subjects: list[str]) -> str:
    shown = ", ".join(subjects[:4])
    return f"{shown} and {len(subjects) - 4} more" if len(subjects) > 4 else shown


def _later(page: _Page, report: PlanReport) -> None:
    if report.later:
        page.heading("Later")
        counts: dict[str, int] = {}
        for remark in report.later:
            counts[f"{remark.rule}: {remark.says}"] = counts.get(f"{remark.rule}: {remark.says}", 0) + 1
        for text, count in counts.items():
            page.entry("- ", f"{text} ({count})")


def _crashed(page: _Page, report: PlanReport) -> None:
    if report.crashed:
        page.heading("Rules that failed (nothing is known of these)")
        for remark in report.crashed:
            page.entry("- ", f"{remark.rule} at {remark.path or '/'}: {remark.says}", mark="hazard")


def _waived(page: _Page, report: PlanReport) -> None:
    if report.waived:
        page.heading("Waived")
        for one in report.waived:
            words = f"{one.finding.says} Waived by {one.by} until {one.until}: {one.because}."
            page.entry("- ", f"{one.finding.rule} at {one.finding.path}: {words}")


def _tally(page: _Page, report: PlanReport) -> None:
    page.heading("Tally")
    widest = max((len(rule) for rule in report.tally), default=4)
    for rule, counts in report.tally.items():
        said = ", ".join(f"{counts[kind]} {kind}" for kind in OUTCOMES if counts[kind])
        total = sum(counts.values())
        page.entry(f"{rule:<{widest}}  ", f"{total} looked at: {said}" if total else "nothing of the kind in this plan")


def _verdict(report: PlanReport) -> str:
    found = ", ".join(_count(report.counts[severity], severity) for severity in SEVERITIES if report.counts[severity])
    rest = [f"{report.counts['not shown']} not shown", f"{report.counts['on site']} on site"]
    if report.verdict == "failed":
        return f"A rule failed: this report is not whole. {found or 'No findings'} in what was judged."
    return f"{found or 'No findings in what was judged'}; {', '.join(rest)}."


def _count(number: int, severity: str) -> str:
    plural = {"hazard": "hazards", "correction": "corrections", "advice": "pieces of advice"}
    single = "piece of advice" if severity == "advice" else severity
    return f"{number} {single if number == 1 else plural[severity]}"
