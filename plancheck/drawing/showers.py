"""The shower when something else opens: its temperature for every other draw, with and without its valve."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from plancheck.drawing.axis import INK, QUIET, Scale, axis, scale_for
from plancheck.drawing.letters import box_of, shortened, wrapped
from plancheck.drawing.svg import Box, Picture, element, line, whole, words
from plancheck.facts import Facts
from plancheck.flow.pages.showers import BAND_K, SCALD_C, showers_tables
from plancheck.flow.pages.table import Cell, Gaps, Table

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW = 180.0, 52.0, 160.0, 30.0, 5.0
_BEFORE, _AFTER, _HELD = 3, 4, 6


def shower_pictures(facts: Facts) -> tuple[Picture, ...]:
    """One picture for every shower whose temperature is known."""
    tables = showers_tables(facts.flow, Gaps())
    return tuple(_picture(facts, table) for table in tables if table.rows)


def _picture(facts: Facts, table: Table) -> Picture:
    degrees = _degrees(facts)
    before = _number(table.rows[0][_BEFORE])
    shown = [before + BAND_K, before - BAND_K]
    for row in table.rows:
        shown += [cell for cell in row[_AFTER : _HELD + 1] if isinstance(cell, float) and cell > 20.0]
    scale = scale_for([degrees(value) for value in shown], _LEFT, _RIGHT)
    says = [line_ for text in (*table.says, *table.notes) for line_ in wrapped(text, 2.5, _WIDTH - 8)]
    height = _TOP + _ROW * (len(table.rows) + 1) + 8 + 3.4 * len(says) + 8
    name = f"shower-{table.id.partition(' ')[2]}"
    title = table.title[:1].upper() + table.title[1:]
    about = f"Temperature of the shower, set to {facts.degrees(before)}, for each other draw that opens."
    labels: list[tuple[str, Box]] = []
    body = [*_head(title, about, height), *_rows(facts, table, scale, labels), *_foot(table, says)]
    return Picture(name, title, about, whole(name, title, about, _WIDTH, height, body), _WIDTH, height, tuple(labels))


def _degrees(facts: Facts) -> Callable[[float], float]:
    """From degrees Celsius to the plan's own."""
    fahrenheit = facts.units.temperature == "degF"
    return lambda celsius: celsius * 1.8 + 32.0 if fahrenheit else celsius


def _number(cell: Cell) -> float:
    return float(cell) if cell is not None else 0.0


def _head(title: str, about: str, height: float) -> Iterator[str]:
    yield element("rect", x=0, y=0, width=_WIDTH, height=height, fill="#ffffff")
    yield words(4, 7, shortened(title, 4.2, _WIDTH - 8), 4.2, font_weight="bold")
    yield words(4, 12.5, shortened(about, 2.6, _WIDTH - 8), 2.6, fill=QUIET)
    yield element("circle", cx=6, cy=17.4, r=1.3, fill=INK)
    yield words(9, 18.2, "as a plain valve gives it", 2.6)
    yield element("circle", cx=52, cy=17.4, r=1.5, fill="#ffffff", stroke=INK, stroke_width=0.5)
    yield words(55, 18.2, "with its own valve", 2.6)
    yield element("rect", x=90, y=15.6, width=8, height=3.4, fill="#e4e9e4")
    yield words(100, 18.2, "no more than people notice", 2.6)


def _rows(facts: Facts, table: Table, scale: Scale, labels: list[tuple[str, Box]]) -> Iterator[str]:
    degrees = _degrees(facts)
    bottom = _TOP + _ROW * (len(table.rows) + 0.5)
    before = _number(table.rows[0][_BEFORE])
    low, high = scale.at(degrees(before - BAND_K)), scale.at(degrees(before + BAND_K))
    yield element("rect", x=low, y=_TOP, width=high - low, height=bottom - _TOP, fill="#e4e9e4")
    yield from axis(scale, _TOP, bottom, facts.units.temperature)
    start = scale.at(degrees(before))
    yield line(((start, _TOP), (start, bottom)), stroke=INK, stroke_width=0.35)
    if scale.low < degrees(SCALD_C) < scale.high:
        x = scale.at(degrees(SCALD_C))
        yield line(((x, _TOP), (x, bottom)), stroke="#a3160f", stroke_width=0.5, stroke_dasharray="2 1")
        yield words(x, bottom + 3.5, "scalds from here", 2.4, text_anchor="middle", fill="#a3160f")
    for place, row in enumerate(table.rows):
        y = _TOP + _ROW * (place + 1)
        name = shortened(str(row[0]), 2.6, _LEFT - 8)
        yield words(4, y + 0.9, name, 2.6)
        labels.append((name, box_of(4, y + 0.9, name, 2.6)))
        after = scale.at(degrees(_number(row[_AFTER])))
        yield line(((start, y), (after, y)), stroke=INK, stroke_width=0.3)
        held = row[_HELD] if len(row) > _HELD else None
        yield element("circle", cx=after, cy=y, r=1.3, fill=INK)
        if isinstance(held, float):
            yield element("circle", cx=scale.at(degrees(held)), cy=y, r=1.7, fill="none", stroke=INK, stroke_width=0.5)


def _foot(table: Table, says: list[str]) -> Iterator[str]:
    y = _TOP + _ROW * (len(table.rows) + 1) + 8
    for place, text in enumerate(says):
        yield words(4, y + 3.4 * place, text, 2.5, fill=QUIET)
