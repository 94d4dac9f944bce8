"""A report as a page shows it: findings by station, each with what hangs on it; what is for the site by place."""

from __future__ import annotations

import re
from collections.abc import Sequence

from markupsafe import Markup

from plancheck.drawing.svg import Picture
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport
from plancheck.report.layout import Tally, later_of, source_words, tally_of, to_see, verdict_words
from plancheck.report.wishes import wishes


class Entry(NamedTuple):
    """A finding that is told by itself, the source of what is needed, and what hangs on it.

    why_at and ask_at: the number of an earlier finding where the same words stand in full, 0 where they stand here.
    """

    finding: Finding
    source: str
    why_at: int
    ask_at: int
    follows: tuple[Finding, ...]
    same: tuple[Finding, ...]


class Group(NamedTuple):
    """What belongs to one station of the walk through the house."""

    station: str
    entries: tuple[Entry, ...]


_LARGE_MM = 300.0


class Shown(NamedTuple):
    """A picture on a page. svg: markup of our own, every text of the plan in it escaped; large: printed on a sheet of its own."""

    title: str
    about: str
    svg: Markup
    large: bool = False

    @classmethod
    def of(cls, picture: Picture) -> Shown:
        """A picture made here, which is escaped already."""
        return cls(picture.title, picture.about, Markup(picture.svg), picture.width_mm > _LARGE_MM)


def marks(picture: Picture) -> frozenset[int]:
    """The numbers of the findings that have a mark in a picture."""
    return frozenset(int(number) for number in re.findall(r'id="[^"]*mark-(\d+)"', picture.svg))


class View(NamedTuple):
    """One plan's report as a page shows it. key: what its anchors begin with; verdict: its last line.

    picture: the drawing with the findings marked, if there is one; marked: the numbers of those that have a mark in it.
    """

    key: str
    report: PlanReport
    groups: tuple[Group, ...]
    wishes: tuple[str, ...]
    to_see: Sequence[tuple[str, Sequence[str], str]]
    later: Sequence[tuple[str, int]]
    tally: Tally
    verdict: str
    picture: Shown | None = None
    marked: frozenset[int] = frozenset()


def view_of(report: PlanReport, key: str) -> View:
    """What the page of a report shows."""
    return View(
        key,
        report,
        groups_of(report.findings),
        tuple(wishes(report.not_shown)),
        to_see(report.on_site),
        later_of(report.later),
        tally_of(report),
        verdict_words(report),
    )


def groups_of(findings: Sequence[Finding]) -> tuple[Group, ...]:
    """The findings by station, in their order."""
    hanging: dict[int, list[Finding]] = {}
    for one in findings:
        if one.under:
            hanging.setdefault(one.under, []).append(one)
    groups: dict[str, list[Entry]] = {}
    told: dict[str, int] = {}
    for one in findings:
        if not one.under:
            others = hanging.get(one.number, [])
            follows, same = (tuple(other for other in others if other.tie == tie) for tie in ("follows", "same"))
            source = source_words(one) if one.limit is not None and one.needed else ""
            why_at, ask_at = (_at(told, text, one.number) for text in (one.why, one.ask))
            groups.setdefault(one.station, []).append(Entry(one, source, why_at, ask_at, follows, same))
    return tuple(Group(station, tuple(entries)) for station, entries in groups.items())


def _at(told: dict[str, int], text: str, number: int) -> int:
    """Where a text stands already, 0 where it does not; from then on it stands at this number."""
    first = told.setdefault(text, number)
    return first if first != number else 0
