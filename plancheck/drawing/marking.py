"""The findings of a report as numbered marks beside their places on a drawing."""

from __future__ import annotations

from collections.abc import Callable

from plancheck.drawing.glyphs import MARK_MM, mark
from plancheck.drawing.placing import Room, centred
from plancheck.drawing.svg import Segment, element, escape, line
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport


class Marks(NamedTuple):
    """leads: thin lines to the places, drawn below the symbols; shapes: the marks; numbers: of the findings marked."""

    leads: list[str]
    shapes: list[str]
    numbers: list[int]


def marks_of(
    report: PlanReport | None, place: Callable[[Finding], tuple[float, float] | None], room: Room, key: str, linked: bool
) -> Marks:
    """The marks of all findings that have a place. linked: each leads to its finding; key: what anchors begin with."""
    found = Marks([], [], [])
    for one in report.findings if report is not None else ():
        spot = place(one)
        if spot is None:
            continue
        box = room.free_around(*spot, MARK_MM, MARK_MM, 0.8, 120.0) or centred(*spot, MARK_MM, MARK_MM)
        x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
        room.add_line(Segment(*spot, x, y))
        found.leads.append(line((spot, (x, y)), stroke="#000000", stroke_width=0.2))
        title = element("title", escape(f"{one.number}. {one.severity}: {one.says}"))
        shape = mark(one.severity, str(one.number), x, y)
        inside = element("g", (title, shape), id=f"{key}mark-{one.number}", class_=f"mark {one.severity}")
        found.shapes.append(element("a", inside, href=f"#{key}finding-{one.number}") if linked else inside)
        found.numbers.append(one.number)
    return found


def told(marks: Marks) -> str:
    """How many findings are marked, in words."""
    count = len(marks.numbers)
    return f"{count or 'no'} finding{'' if count == 1 else 's'} marked"
