"""The sheet around a drawing: frame, title block, legend of what is on it, levels, notes and north."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence

from plancheck.drawing.glyphs import glyph, mark
from plancheck.drawing.letters import shortened, wrapped
from plancheck.drawing.signs import sign
from plancheck.drawing.svg import Box, element, line, number, words
from plancheck.drawing.waters import LOOKS, UNKNOWN, WIDTH_MM, Look
from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.outcomes import SEVERITIES
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport
from plancheck.report.page import clean

MARGIN, COLUMN, TITLE_HIGH = 8.0, 66.0, 39.0
_SIZE, _LINE = 2.6, 4.6
# width and height of sheets in millimetres: ISO 216 A3, A2, A1; ANSI Y14.1 B, C, D
_METRIC, _US = ((420.0, 297.0), (594.0, 420.0), (841.0, 594.0)), ((431.8, 279.4), (558.8, 431.8), (863.6, 558.8))


class Legend(NamedTuple):
    """What a drawing has that its legend explains."""

    waters: Sequence[Look]
    kinds: Sequence[str]
    tubes: Sequence[str]
    severities: Sequence[str]
    stand_ins: bool
    levels: Sequence[tuple[str, str]]
    notes: Sequence[str]
    signs: Sequence[str] = ()


def sizes_of(facts: Facts) -> tuple[tuple[float, float], ...]:
    """The sheets to choose from, the smallest first."""
    return _US if facts.units.length == "ft-in" else _METRIC


def room_of(sheet: tuple[float, float]) -> Box:
    """What of a sheet is left for the drawing itself."""
    return Box(MARGIN + 3, MARGIN + 3, sheet[0] - MARGIN - COLUMN - 3, sheet[1] - MARGIN - 3)


def frame(facts: Facts, report: PlanReport | None, title: str, sheet: tuple[float, float], legend: Legend) -> Iterator[str]:
    """Frame, title block and legend."""
    wide, high = sheet
    left = wide - MARGIN - COLUMN
    yield element("rect", x=0, y=0, width=wide, height=high, fill="#ffffff")
    yield element("rect", x=MARGIN, y=MARGIN, width=wide - 2 * MARGIN, height=high - 2 * MARGIN, fill="none", stroke="#000000", stroke_width=0.5)
    yield line(((left, MARGIN), (left, high - MARGIN)), stroke="#000000", stroke_width=0.35)
    yield from _legend(legend, left + 3, MARGIN + 6)
    yield from _title(facts, report, title, left, high - MARGIN - TITLE_HIGH)


def _title(facts: Facts, report: PlanReport | None, title: str, left: float, top: float) -> Iterator[str]:
    job = facts.plan.job
    code = report.code if report is not None else ""
    digest = hashlib.sha256(facts.source.raw).hexdigest()[:12]
    yield line(((left, top), (left + COLUMN, top)), stroke="#000000", stroke_width=0.35)
    rows = (
        *((text, 3.6, "bold") for text in _job_title(job.title or facts.source.file)),
        (title, 3.0, None),
        (", ".join(filter(None, (code, f"stage {facts.stage}"))), 2.4, None),
        (", ".join(filter(None, (f"by {job.by}" if job.by else "", job.date or ""))), 2.4, None),
        (f"plan {digest}, drawn {facts.today}", 2.4, None),
        ("Not to scale: lengths as written. A drawing of what a", 2.1, None),
        ("plan says; the local authority and the makers decide.", 2.1, None),
    )
    y = top + 1.5
    for text, size, weight in rows:
        if text:
            y += size + 1.3
            shown = shortened(text, size * (1.08 if weight else 1.0), COLUMN - 5)
            yield words(left + 3, y, shown, size, font_weight=weight)


def _job_title(text: str) -> tuple[str, ...]:
    """The job's title in two lines at most."""
    text = clean(text)  # as it is printed: a sign that cannot be is longer
    lines = wrapped(text, 3.6 * 1.08, COLUMN - 5)
    return lines if len(lines) < 3 else (lines[0], shortened(" ".join(lines[1:]), 3.6 * 1.08, COLUMN - 5))


def _legend(legend: Legend, x: float, y: float) -> Iterator[str]:
    for look in legend.waters:
        yield _pipe(x, y, look)
        yield words(x + 26, y + 0.9, f"{look.name}{f' ({look.code})' if look.code else ''}", _SIZE)
        y += _LINE
    if legend.stand_ins:
        yield line(((x, y), (x + 23, y)), stroke="#555555", stroke_width=0.45, stroke_dasharray="5 1.2 1 1.2", stroke_linecap="round")
        yield words(x + 26, y + 0.9, "thin: path not in the plan", _SIZE)
        y += _LINE
    y += 2
    for kind in legend.kinds:
        found = glyph(kind)
        y += max(0.0, found.high - 2.2)
        yield element("g", found.draw(), transform=f"translate({number(x + 6)} {number(y)})")
        yield words(x + 14, y + 0.9, shortened(found.name, _SIZE, COLUMN - 20), _SIZE)
        y += _LINE + max(0.0, found.high - 2.2)
    for kind in legend.signs:
        drawn, name = sign(kind, x, y)
        yield drawn
        yield words(x + 14, y + 0.9, name, _SIZE)
        y += _LINE
    for severity in legend.severities:
        y += 2.2
        yield mark(severity, "n", x + 6, y)
        yield words(x + 14, y + 0.9, f"{severity}, by its number in the list", _SIZE)
        y += _LINE + 0.8
    y += 1.5
    for text in _texts(legend):
        yield words(x, y + 0.9, text, 2.4, fill="#000000")
        y += 3.5


def _texts(legend: Legend) -> Iterator[str]:
    for tube in legend.tubes:
        yield from wrapped(tube, 2.4, COLUMN - 6)
    for name, level in legend.levels:
        yield shortened(f"{level}: {name}", 2.4, COLUMN - 6)
    for note in legend.notes:
        yield from wrapped(note, 2.4, COLUMN - 6)


def _pipe(x: float, y: float, look: Look) -> str:
    return line(((x, y), (x + 23, y)), stroke=look.colour, stroke_width=WIDTH_MM, stroke_dasharray=look.dashes or None, stroke_linecap="round")


def legend_of(facts: Facts, kinds: Iterable[str], services: Iterable[str | None], report: PlanReport | None, marked: Iterable[int], stand_ins: bool, notes: Sequence[str]) -> Legend:
    """The legend for what is drawn."""
    looks = {LOOKS.get(service or "", UNKNOWN): None for service in services}
    order = [*LOOKS.values(), UNKNOWN]
    numbers = set(marked)
    found = {one.severity for one in report.findings if one.number in numbers} if report is not None else set()
    return Legend(
        [look for look in order if look in looks],
        sorted(dict.fromkeys(kinds), key=lambda kind: (glyph(kind).name, kind)),
        list(_tubes(facts)),
        [severity for severity in SEVERITIES if severity in found],
        stand_ins,
        list(_levels(facts)),
        notes,
    )


def _tubes(facts: Facts) -> Iterator[str]:
    """The pipe that is used, in words."""
    used = {run.tube for run in facts.plan.runs.values() if run.work != "removed"}
    seen: dict[str, None] = {}
    for tube in facts.plan.tubes.values():
        if tube.id in used:
            size = tube.size.name if isinstance(tube.size, Size) else ""
            seen[" ".join(filter(None, (size, tube.material or "", tube.type or "")))] = None
    if seen:
        yield f"Pipe: {', '.join(sorted(seen))}."


def _levels(facts: Facts) -> Iterator[tuple[str, str]]:
    """Storeys: the places at each level, the highest first."""
    by_level: dict[float, tuple[str, list[str]]] = {}
    for place in facts.plan.places.values():
        if isinstance(place.level, Length):
            by_level.setdefault(place.level.m, (place.level.text, []))[1].append(place.title)
    for _, (text, names) in sorted(by_level.items(), reverse=True):
        yield ", ".join(names), f"Floor at {text}"


def north_arrow(x: float, y: float, way: tuple[float, float]) -> str:
    """An arrow to the north."""
    tip = (x + 9 * way[0], y + 9 * way[1])
    side = (-way[1], way[0])
    head = f"M{number(tip[0])} {number(tip[1])}L{number(tip[0] - 3 * way[0] + 1.2 * side[0])} {number(tip[1] - 3 * way[1] + 1.2 * side[1])}L{number(tip[0] - 3 * way[0] - 1.2 * side[0])} {number(tip[1] - 3 * way[1] - 1.2 * side[1])}Z"
    shaft = line(((x - 5 * way[0], y - 5 * way[1]), tip), stroke="#000000", stroke_width=0.4)
    return shaft + element("path", d=head, fill="#000000") + words(tip[0] + 2.5 * way[0], tip[1] + 2.5 * way[1] + 1, "N", 3.2, text_anchor="middle", font_weight="bold")
