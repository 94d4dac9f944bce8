"""The shutoff map: a row for each valve, a column for each outlet, a dot where closing the one dries the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plancheck.drawing.letters import box_of, shortened, width
from plancheck.drawing.signs import GREY
from plancheck.drawing.svg import Box, Picture, element, line, whole, words
from plancheck.facts import Facts
from plancheck.isolate import Closing, is_for_testing

_STEP, _ROW, _SIZE, _MARGIN, _HEAD, _MOST_NAME, _MOST_WIDE = 4.6, 5.0, 2.6, 6.0, 14.0, 46.0, 185.0


def shutoff_picture(facts: Facts) -> Picture | None:
    """The map of a plan; None where no valve dries anything."""
    closing = Closing(facts)
    points = closing.wet_points
    rows = [(name, closing.dry((name,))) for name in closing.graph.valves if not is_for_testing(facts, name)]
    rows = [(name, dry) for name, dry in rows if dry and dry != (name,)]
    if not rows or not points:
        return None
    titles = [_title(facts, name) for name, _ in rows]
    left = _MARGIN + min(_MOST_NAME, max(width(title, _SIZE) for title in titles)) + 3
    top = _HEAD + min(_MOST_NAME, max(width(point, _SIZE) for point in points)) + 4
    per = max(6, int((_MOST_WIDE - left - _MARGIN) / _STEP))
    parts = [points[at : at + per] for at in range(0, len(points), per)]
    wide = max(110.0, left + _STEP * min(per, len(points)) + _MARGIN)
    high = (top - _HEAD + _ROW * len(rows) + 8) * len(parts) + _HEAD
    title, about = "Close this, these go dry", "Each dot: closing the valve of its row leaves the outlet of its column dry."
    labels: list[tuple[str, Box]] = []
    body = [element("rect", x=0, y=0, width=wide, height=high, fill="#ffffff")]
    body += [words(_MARGIN, 7, title, 4.2, font_weight="bold"), words(_MARGIN, 11.5, shortened(about, 2.6, wide - 12), 2.6, fill=GREY)]
    for number, some in enumerate(parts):  # as many columns side by side as a page is wide, the rest below
        begin = top + number * (top - _HEAD + _ROW * len(rows) + 8)
        body += _columns(some, left, begin, begin + _ROW * len(rows) + 8, labels)
        for place, ((_, dry), name) in enumerate(zip(rows, titles, strict=True)):
            body += _row(name, frozenset(dry), some, left, begin + _ROW * (place + 0.5), labels)
    svg = whole("shutoff", title, about, wide, high, body)
    return Picture("shutoff", title, about, svg, wide, high, tuple(labels))


def _title(facts: Facts, name: str) -> str:
    """A valve by its name and what is written at its port."""
    part, _, port = name.partition("/")
    ports = getattr(facts.plan.parts[part].own, "ports", {})
    label = ports[port].label if port in ports else None
    return f"{name} {label}" if label else name


def _columns(points: Sequence[str], left: float, top: float, high: float, labels: list[tuple[str, Box]]) -> Iterator[str]:
    for place, point in enumerate(points):
        x = left + _STEP * (place + 0.5)
        yield line(((x, top), (x, high - 8)), stroke="#d5d8d4", stroke_width=0.2)
        text = shortened(point, _SIZE, _MOST_NAME)
        yield words(x + 0.9, top - 1.5, text, _SIZE, transform=f"rotate(-90 {x + 0.9:.2f} {top - 1.5:.2f})")
        long = width(text, _SIZE)
        labels.append((text, Box(x + 0.9 - 0.74 * _SIZE, top - 1.5 - long, x + 0.9 + 0.21 * _SIZE, top - 1.5)))


def _row(
    name: str, dry: frozenset[str], points: Sequence[str], left: float, y: float, labels: list[tuple[str, Box]]
) -> Iterator[str]:
    text = shortened(name, _SIZE, left - _MARGIN - 2)
    yield words(_MARGIN, y + 0.9, text, _SIZE)
    labels.append((text, box_of(_MARGIN, y + 0.9, text, _SIZE)))
    yield line(((left, y), (left + _STEP * len(points), y)), stroke="#d5d8d4", stroke_width=0.2)
    for place, point in enumerate(points):
        if point in dry:
            yield element("circle", cx=left + _STEP * (place + 0.5), cy=y, r=1.2, fill="#000000")
