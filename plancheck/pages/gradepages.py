"""The pages of grading: one for each candidate, one for the class. Names come from the roster alone, never from a plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from plancheck.drawing.svg import Picture
from plancheck.facts import Facts
from plancheck.grading.results import AspectPicture, ClassPicture, Graded, Made
from plancheck.grading.rubric import Rubric
from plancheck.loader import LoadedRule
from plancheck.pages.making import page
from plancheck.pages.views import Shown, View, marks, view_of
from plancheck.record import NamedTuple
from plancheck.report.gradetext import names_of


class Bar(NamedTuple):
    """One bar of a picture of figures: its name, what it counts, its length as a share of the longest."""

    name: str
    words: str
    share: float


def feedback_page(
    rubric: Rubric, made: Made, one: Graded, titles: Mapping[str, str], picture: Picture | None = None
) -> str:
    """The feedback of one candidate. titles: of the rules; picture: the drawing of his plan with its findings marked."""
    view = _view(rubric, one, picture)
    read = _to_read(one, titles)
    return page("feedback.html", title=f"{one.candidate}: {rubric.title}", rubric=rubric, made=made, one=one, view=view, read=read)


def _view(rubric: Rubric, one: Graded, picture: Picture | None) -> View | None:
    """The report on the page; of what the plan does not say only what an aspect of the rubric asks for."""
    if one.report is None:
        return None
    asked = {rule for _, aspect in rubric.aspects().values() for rule in aspect.rules}
    view = view_of(one.report._replace(not_shown=tuple(gap for gap in one.report.not_shown if gap.rule in asked)), "")
    return view if picture is None else view._replace(picture=Shown.of(picture), marked=marks(picture))


def _to_read(one: Graded, titles: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """What to read again: what the rubric says of aspects that lost marks, and the manual of each rule that was broken."""
    found: dict[str, str] = {}
    for section in one.sections:
        for aspect in section.aspects:
            if aspect.gain > 0.0 and aspect.read:
                found[aspect.title] = aspect.read
            for fault in aspect.faults:
                found[titles.get(fault.rule, fault.rule)] = f"plancheck why {fault.rule}"
    return tuple(found.items())


def class_page(rubric: Rubric, made: Made, class_: Sequence[Graded], picture: ClassPicture, titles: Mapping[str, str]) -> str:
    """The page of the class, for the instructor alone."""
    return page(
        "class.html",
        title=f"Class: {rubric.title}",
        rubric=rubric,
        made=made,
        class_=class_,
        picture=picture,
        names_of=names_of,
        bands=_bars([(name, f"{count}", count) for name, count in picture.bands]),
        hardest=_bars([(one.title, f"{one.mean:.0%}", one.mean) for one in picture.aspects], 1.0),
        missed=_bars([(titles.get(rule, rule), _plans(count), count) for rule, count in picture.missed], float(picture.size)),
        separating=[(one, _separating(one)) for one in picture.aspects],
    )


def _plans(count: int) -> str:
    return f"{count} plan{'' if count == 1 else 's'}"


def _bars(rows: Sequence[tuple[str, str, float]], longest: float | None = None) -> tuple[Bar, ...]:
    most = longest or max((value for _, _, value in rows), default=0.0) or 1.0
    return tuple(Bar(name, words, value / most) for name, words, value in rows)


def _separating(one: AspectPicture) -> str:
    """How well an aspect tells strong from weak, in words (bounds: common practice of item analysis)."""
    found = one.separates
    if found is None:
        return "cannot be told: everybody has the same"
    strength = "well" if found >= 0.4 else "somewhat" if found >= 0.2 else "hardly" if found > -0.2 else "the wrong way round: look at it"
    return f"{strength} ({found:+.2f})"


def titles_of(rules: Sequence[LoadedRule]) -> Mapping[str, str]:
    """The titles of rules by their ids."""
    return {rule.id: rule.words.title for rule in rules}


def drawing_of(one: Graded, facts: Facts | None) -> Picture | None:
    """The drawing of a candidate's plan; None where it cannot be read, or has nothing to draw."""
    from plancheck.drawing.kinds import supply

    return supply(facts, one.report, linked=True) if facts is not None and facts.plan.runs else None
