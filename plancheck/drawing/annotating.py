"""The texts of an isometric: sizes and lengths, names, ports, levels, each where it is clear of all else."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from plancheck.drawing.glyphs import INK, box_at, kind_of
from plancheck.drawing.letters import box_of, width
from plancheck.drawing.placing import Room, around, beside_line, centred
from plancheck.drawing.scene import Scene, Spot, label_of, length_of, on_run
from plancheck.drawing.svg import Box, Segment, element, line, number, segments, words
from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Part

LABEL, _NAME, _TEXT_HIGH = 2.2, 2.5, 0.95
_GREY = "#4d585c"


def level_marks(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """A post at a corner of the house with a mark at each storey's floor: a triangle on its line, and the height."""
    if not scene.levels:
        return
    top, bottom = scene.levels[-1][1], scene.levels[0][1]
    yield line((bottom, top), stroke=_GREY, stroke_width=0.2, stroke_dasharray="1 1")
    room.add_line(Segment(*bottom, *top))
    for metres, (x, y) in scene.levels:
        text = scene.facts.length(metres) if metres else "0"
        yield line(((x - 4, y), (x + 4, y)), stroke=INK, stroke_width=0.25)
        yield element("path", d=f"M{number(x)} {number(y)}l-1.1 -1.9h2.2z", fill=INK)
        room.add_box(Box(x - 4, y - 2, x + 4, y + 0.3))
        box = room.first_free(centred(x + way * (5 + width(text, LABEL) / 2), y - 0.4, width(text, LABEL) + 0.4, LABEL * _TEXT_HIGH) for way in (-1, 1))
        if box is not None:
            yield _written(labels, text, LABEL, box)


def part_names(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """The names of fixtures, heaters, manifolds and the main valve, and the letters of ports."""
    facts = scene.facts
    for ref, (x, y) in scene.ports.items():
        yield from _text(room, labels, ref.connection, LABEL, around(x, y, width(ref.connection, LABEL) + 0.4, LABEL * _TEXT_HIGH, 0.9, 7.0), (x, y), bold=True)
    for id_, spot in scene.parts.items():
        part = facts.plan.parts[id_]
        if is_named(facts, part):
            name = facts.part_name(id_)
            first = box_at(kind_of(part), *spot).bottom - spot[1] + 0.6 if not isinstance(part.own, ManifoldOwn) else 3.0
            yield from _text(room, labels, name, _NAME, around(*spot, width(name, _NAME) + 0.4, _NAME * _TEXT_HIGH, first, 160.0), spot)


def is_named(facts: Facts, part: Part) -> bool:
    from plancheck.kinds import KINDS

    return KINDS[part.is_].sort in ("fixture", "heater", "manifold", "supply", "mixing") or part.id == facts.main_valve or part.name is not None


def run_labels(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """Size and length at every run, the shortest runs first as they have least room."""
    for run in sorted(scene.runs, key=lambda one: sum(length_of(*ends) for ends in pairwise(one.corners))):
        text = label_of(scene.facts, run.line)
        if not text:
            continue
        wide, high = width(text, LABEL) + 0.4, LABEL * _TEXT_HIGH
        pieces = sorted(segments(run.corners), key=lambda one: -length_of((one.x1, one.y1), (one.x2, one.y2)))
        close = (box for piece in pieces[:4] for box in beside_line(piece, wide, high, 0.7))
        box = room.first_free(close)
        if box is not None:
            yield _written(labels, text, LABEL, box)
            continue
        middle = on_run(run, ())
        yield from _text(room, labels, text, LABEL, around(*middle, wide, high, 1.2, 160.0), middle)


def _text(room: Room, labels: list[tuple[str, Box]], text: str, size: float, boxes: Iterator[Box], spot: Spot, bold: bool = False) -> Iterator[str]:
    """A text at the first free box, with a thin line to its spot where it is not beside it; beside it where none is free.

    Bold ones are the names of ports, which stand on the manifold's own drawing too: they are left out instead.
    """
    wide, high = width(text, size) + 0.4, size * _TEXT_HIGH
    box = room.first_free(boxes)
    if box is None and bold:
        return
    if box is None:
        box = centred(spot[0], spot[1] - 2, wide, high)
        room.add_box(box)
    x, y = min(max(spot[0], box.left), box.right), min(max(spot[1], box.top), box.bottom)
    if length_of((x, y), spot) > 4.5:
        yield line((spot, (x, y)), stroke=_GREY, stroke_width=0.15)
    yield _written(labels, text, size, box, bold)


def _written(labels: list[tuple[str, Box]], text: str, size: float, box: Box, bold: bool = False) -> str:
    """A text in its box."""
    x, y = box.left + 0.2, box.bottom - 0.21 * size
    labels.append((text, box_of(x, y, text, size)))
    return words(x, y, text, size, font_weight="bold" if bold else None)
