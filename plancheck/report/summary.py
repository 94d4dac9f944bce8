"""The end of a run over several plans: one line a plan, then the rules with findings, most first."""

from __future__ import annotations

from collections.abc import Sequence

from plancheck.outcomes import SEVERITIES
from plancheck.report.data import Brief
from plancheck.report.page import Page, Span, clean

_HEADS = ("verdict", "hazards", "corrections", "advice", "not shown")
_COUNTED = (*SEVERITIES, "not shown")
_WIDTHS = (13, 7, 11, 6, 9)
_TABLE = sum(_WIDTHS) + 2 * len(_WIDTHS)


def summary_text(briefs: Sequence[Brief], width: int) -> str:
    """The summary as plain text, wrapped to the width."""
    lines = ("".join(span.text for span in line).rstrip() for line in summary_page(briefs, width).lines)
    return "\n".join(lines) + "\n"


def summary_page(briefs: Sequence[Brief], width: int) -> Page:
    """The summary as lines of marked text."""
    page = Page(width)
    page.text("Summary", "title")
    names = [clean(brief.file) for brief in briefs]
    widest = max(4, *map(len, names))
    page.blank()
    if widest + _TABLE <= page.width:
        _table(page, briefs, names, widest)
    else:
        _stacked(page, briefs, names)
    _rules(page, briefs)
    page.blank()
    page.text(_last(briefs), "title")
    return page


def _table(page: Page, briefs: Sequence[Brief], names: Sequence[str], widest: int) -> None:
    page.lines.append((Span(f"{'plan':<{widest}}{_row(_HEADS)}", "label"),))
    for name, brief in zip(names, briefs, strict=True):
        page.lines.append((Span(f"{name:<{widest}}"), Span(_row((brief.verdict, *_counts(brief))), _mark(brief))))


def _row(cells: Sequence[str]) -> str:
    verdict, *numbers = cells
    aligned = (f"  {number:>{width}}" for number, width in zip(numbers, _WIDTHS[1:], strict=True))
    return f"  {verdict:<{_WIDTHS[0]}}{''.join(aligned)}"


def _counts(brief: Brief) -> tuple[str, ...]:
    return tuple(f"{brief.counts[kind]}" if brief.counts else "-" for kind in _COUNTED)


def _mark(brief: Brief) -> str:
    return "hazard" if brief.verdict in ("failed", "unreadable") or brief.counts["hazard"] else "plain"


def _stacked(page: Page, briefs: Sequence[Brief], names: Sequence[str]) -> None:
    for name, brief in zip(names, briefs, strict=True):
        page.text(name)
        counts = [f"{head} {count}" for head, count in zip(_HEADS[1:], _counts(brief), strict=True) if brief.counts]
        page.text(", ".join((brief.verdict, *counts)), _mark(brief), indent=4)


def _rules(page: Page, briefs: Sequence[Brief]) -> None:
    found: dict[str, int] = {}
    plans: dict[str, int] = {}
    for brief in briefs:
        for rule, number in brief.rules.items():
            found[rule] = found.get(rule, 0) + number
            plans[rule] = plans.get(rule, 0) + 1
    if not found:
        return
    page.heading("Rules by number of findings")
    widest = max(map(len, found))
    for rule in sorted(found, key=lambda rule: (-found[rule], rule)):
        page.entry(f"{rule:<{widest}}  ", f"{found[rule]} in {_plans(plans[rule])}")


def _last(briefs: Sequence[Brief]) -> str:
    counts: dict[str, int] = {}
    for brief in briefs:
        counts[brief.verdict] = counts.get(brief.verdict, 0) + 1
    order = ("nothing found", "findings", "failed", "unreadable")
    said = ", ".join(f"{verdict} {counts[verdict]}" for verdict in order if verdict in counts)
    return f"{_plans(len(briefs))}: {said}."


def _plans(number: int) -> str:
    return f"{number} plan{'' if number == 1 else 's'}"
