"""The punch lists of one call as one page of HTML, each with the drawing of its plan."""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.drawing.svg import Picture
from plancheck.errors import Problem
from plancheck.outcomes import OUTCOMES
from plancheck.pages.making import page
from plancheck.pages.views import Shown, View, marks, view_of
from plancheck.report.data import PlanReport


def html_report(reports: Iterable[PlanReport], unread: Iterable[Problem] = (), more_unread: int = 0) -> str:
    """All plans of one call as one HTML page; the same input gives the same text."""
    plans, problems = list(reports), list(unread)
    views = [_view(report, f"p{number}-" if len(plans) > 1 else "") for number, report in enumerate(plans, 1)]
    title = plans[0].title if len(plans) == 1 and not problems else "Punch lists"
    return page("report.html", title=title, views=views, unread=problems, more_unread=more_unread, kinds=OUTCOMES)


def _view(report: PlanReport, key: str) -> View:
    picture = drawing_of(report, key)
    view = view_of(report, key)
    return view if picture is None else view._replace(picture=Shown.of(picture), marked=marks(picture))


def drawing_of(report: PlanReport, key: str) -> Picture | None:
    """The drawing of a report's plan with its findings marked; None where the plan has nothing to draw."""
    from plancheck.check import facts_of
    from plancheck.drawing.kinds import supply
    from plancheck.reading import read_bytes

    facts = facts_of(read_bytes(report.raw, report.file), report.judged_on)
    return supply(facts, report, key, linked=True) if facts.plan.runs else None
