"""A report as frozen data: everything the renderers print, nothing they have to work out."""

from collections.abc import Mapping

from plancheck.errors import Problem
from plancheck.record import NamedTuple


class Figure(NamedTuple):
    """A number (or text) with its unit, in the plan's own units, and the same in words."""

    value: float | str
    unit: str
    words: str


class LimitShown(NamedTuple):
    """The limit a finding cites; read: read, from memory, common practice or amended.

    authority and because: who says so here and why; instead: the value of the code that it stands in for; amended: all
    of that as a clause of a sentence. Empty where nothing is amended.
    """

    id: str
    value: float | str
    unit: str
    words: str
    source: str
    clause: str
    read: str
    authority: str = ""
    because: str = ""
    instead: str = ""
    amended: str = ""


class Finding(NamedTuple):
    """One broken outcome. number: its place in the punch list; station: where one stands in the house.

    under: the number of the finding it is told under, 0 where it is told by itself; tie: how it hangs on that one, as a
    consequence ("follows") or because one line of the plan makes both ("same"). file: where line and column stand, if
    not in the plan.
    """

    number: int
    rule: str
    severity: str
    station: str
    place: str
    path: str
    line: int
    column: int
    note: str
    subject: str
    cause: str | None
    says: str
    found: str
    needed: str
    why: str
    measured: Figure | None
    limit: LimitShown | None
    mend: str
    ask: str
    caution: str
    under: int = 0
    tie: str = ""
    file: str = ""


class Missing(NamedTuple):
    """One subject that could not be judged: what is missing and the key to add (empty where an estimate is the cause)."""

    rule: str
    path: str
    subject: str
    needs: str
    says: str


class Remark(NamedTuple):
    """One subject for a person on site, or for a later stage, or a rule that failed."""

    rule: str
    path: str
    subject: str
    station: str
    says: str


class WaivedFinding(NamedTuple):
    """A finding that a waiver accepts; authority: who takes it on itself, or empty; file: the waivers' own, if not the plan."""

    finding: Finding
    because: str
    by: str
    until: str
    authority: str = ""
    file: str = ""


class Stale(NamedTuple):
    """A finding that was accepted before and is found no more."""

    rule: str
    path: str
    severity: str
    says: str


class PlanReport(NamedTuple):
    """Everything about one plan.

    verdict: nothing found, findings or failed; decided: what decided it, in words; raw: the bytes of the file.
    accepted: findings that were there before and are told no more; stale: what was accepted and is gone.
    """

    file: str
    raw: bytes
    title: str
    code: str
    stage: str
    judged_on: str
    verdict: str
    counts: Mapping[str, int]
    findings: tuple[Finding, ...]
    not_shown: tuple[Missing, ...]
    on_site: tuple[Remark, ...]
    later: tuple[Remark, ...]
    crashed: tuple[Remark, ...]
    waived: tuple[WaivedFinding, ...]
    tally: Mapping[str, Mapping[str, int]]
    cautions: tuple[str, ...]
    remarks: tuple[str, ...]
    decided: str = ""
    accepted: tuple[Finding, ...] = ()
    stale: tuple[Stale, ...] = ()


class Brief(NamedTuple):
    """One plan in a line. counts is empty where it could not be read; rules: findings by rule."""

    file: str
    verdict: str
    counts: Mapping[str, int]
    rules: Mapping[str, int]


class Result(NamedTuple):
    """What came of a call: the reports that were kept, what could not be read, the exit number and what decided it."""

    reports: tuple[PlanReport, ...]
    unread: tuple[Problem, ...]
    more_unread: int
    number: int
    briefs: tuple[Brief, ...] = ()
    stop_at: str = "correction"
    must_show: frozenset[str] = frozenset()


def brief_of(report: PlanReport) -> Brief:
    """A plan's report in a line."""
    rules: dict[str, int] = {}
    for one in report.findings:
        rules[one.rule] = rules.get(one.rule, 0) + 1
    return Brief(report.file, report.verdict, report.counts, rules)
