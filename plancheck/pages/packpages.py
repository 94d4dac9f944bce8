"""The inspection pack as pages of HTML: all sheets in one, and each alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from plancheck.drawing.svg import Picture
from plancheck.pack.blocks import Sheet
from plancheck.pages.making import page
from plancheck.pages.views import Shown, View, marks, view_of
from plancheck.report.data import PlanReport


def pack_pages(sheets: Sequence[Sheet], report: PlanReport, marked: Picture | None) -> Mapping[str, str]:
    """File name -> text of every page of a pack. marked: the drawing on which the findings have their marks."""
    view = view_of(report, "")
    if marked is not None:
        view = view._replace(picture=Shown.of(marked), marked=marks(marked))
    pages = {"pack.html": _page(f"Inspection pack: {report.title}", sheets, view)}
    for sheet in sheets:
        pages[f"sheets/{sheet.id}.html"] = _page(f"{sheet.title}: {report.title}", (sheet,), view)
    return pages


def _page(title: str, sheets: Sequence[Sheet], view: View) -> str:
    return page("pack.html", title=title, sheets=sheets, view=view, markup=Markup, shown=Shown.of)
