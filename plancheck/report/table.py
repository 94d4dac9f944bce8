"""The findings as CSV, one row each, with all that the JSON report says of them; for a spreadsheet or a script.

A text that a spreadsheet would take for a formula has an apostrophe put before it. Control characters are made visible.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from plancheck.report.data import Figure, Finding, LimitShown, PlanReport, WaivedFinding
from plancheck.report.page import clean

Cell = str | int | float | None
_OF_FINDING = tuple(name for name in Finding._fields if name not in ("measured", "limit", "file"))
_OF_MEASURED = tuple(name for name in Figure._fields if name != "words")
_OF_LIMIT = tuple(name for name in LimitShown._fields if name not in ("words", "amended"))
_OF_WAIVER = ("because", "by", "until", "authority")
COLUMNS = (
    "plan", "title", "code", "stage", "judged_on", "state", *_OF_FINDING, "file",
    *(f"measured_{name}" for name in _OF_MEASURED),
    *(f"limit_{name}" for name in _OF_LIMIT),
    *(f"waived_{name}" for name in _OF_WAIVER),
)  # fmt: skip
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def csv_report(reports: Iterable[PlanReport]) -> str:
    """The findings of all plans of one call, those waived or accepted before as well (their state says so)."""
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\n")
    writer.writerow(COLUMNS)
    for report in reports:
        for row in _rows(report):
            writer.writerow([_safe(cell) for cell in row])
    return made.getvalue()


def _rows(report: PlanReport) -> Iterator[list[Cell]]:
    for one in report.findings:
        yield _row(report, "told", one)
    for waived in report.waived:
        yield _row(report, "waived", waived.finding, waived)
    for one in report.accepted:
        yield _row(report, "accepted", one)


def _row(report: PlanReport, state: str, one: Finding, waived: WaivedFinding | None = None) -> list[Cell]:
    head: list[Cell] = [report.file, report.title, report.code, report.stage, report.judged_on, state]
    return [
        *head,
        *(getattr(one, name) for name in (*_OF_FINDING, "file")),
        *(getattr(one.measured, name, None) for name in _OF_MEASURED),
        *(getattr(one.limit, name, None) for name in _OF_LIMIT),
        *(getattr(waived, name, None) for name in _OF_WAIVER),
    ]


def _safe(cell: Cell) -> Cell:
    if not isinstance(cell, str):
        return cell
    return clean(f"'{cell}" if cell.startswith(_FORMULA) or cell.lstrip().startswith(_FORMULA) else cell)
