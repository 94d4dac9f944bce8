"""The texts of an isometric: sizes and lengths, names, ports, levels, each where it is clear of all else."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from plancheck.drawing.along import middle_of
from plancheck.drawing.glyphs import box_at, kind_of
from plancheck.drawing.letters import box_of, width
from plancheck.drawing.placing import Room, beside_line, centred
from plancheck.drawing.scene import Scene, Spot, label_of, length_of
from plancheck.drawing.signs import GREY, level_sign
from plancheck.drawing.svg import Box, line, segments, words
from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Part

LABEL, _NAME, _TEXT_HIGH = 2.2, 2.5, 0.95


def floor_lines(scene: Scene) -> Iterator[str]:
    """The outlines of the floors, below all else."""
    for _, corners in scene.floors:
        yield line((*corners, corners[0]), stroke=GREY, stroke_width=0.25, stroke_dasharray="1.4 1")


def level_marks(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """On the outline of each floor a triangle with its level, where there is room: at a corner, else along an edge."""
    for metres, corners in scene.floors:
        text = scene.facts.length(metres) if metres else "0"
        wide, high = width(text, LABEL) + 0.4, LABEL * _TEXT_HIGH
        spots = sorted(corners, key=lambda spot: (-spot[1], spot[0]))
        spots += [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise((*corners, corners[0]))]
        for x, y in spots:
            box = next((box for way in (-1, 1) if room.is_free(box := Box(min(x, x + way * (2 + wide)) - 1.2, y - 2.2, max(x, x + way * (2 + wide)) + 1.2, y))), None)
            if box is not None:
                room.add_box(box)
                left = box.left + 0.4 if box.left < x - 2 else x + 1.8
                yield level_sign(x, y)
                yield _written(labels, text, LABEL, Box(left, y - high, left + wide, y))
                break


def part_names(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """The names of fixtures, heaters, manifolds and the main valve, and the letters of ports."""
    facts = scene.facts
    for ref, (x, y) in scene.ports.items():
        yield from _text(room, labels, ref.connection, LABEL, (0.9, 7.0), (x, y), bold=True)
    for id_, spot in scene.parts.items():
        part = facts.plan.parts[id_]
        if is_named(facts, part):
            name = facts.part_name(id_)
            first = box_at(kind_of(part), *spot).bottom - spot[1] + 0.6 if not isinstance(part.own, ManifoldOwn) else 3.0
            yield from _text(room, labels, name, _NAME, (first, 160.0), spot)


def is_named(facts: Facts, part: Part) -> bool:
    from plancheck.kinds import KINDS

    return KINDS[part.is_].sort in ("fixture", "heater", "manifold", "supply", "mixing") or part.id == facts.main_valve or part.name is not None


def run_labels(scene: Scene, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """Size and length at every run, the shortest runs first as they have least room."""
    for run in sorted(scene.runs, key=lambda one: sum(length_of(*ends) for ends in pairwise(one.corners))):
        text = "  ".join(filter(None, label_of(scene.facts, run.line.run)))
        if not text:
            continue
        wide, high = width(text, LABEL) + 0.4, LABEL * _TEXT_HIGH
        pieces = sorted(segments(run.corners), key=lambda one: -length_of((one.x1, one.y1), (one.x2, one.y2)))
        close = (box for piece in pieces[:4] for box in beside_line(piece, wide, high, 0.7))
        box = room.first_free(close)
        if box is not None:
            yield _written(labels, text, LABEL, box)
            continue
        middle = middle_of(run)
        yield from _text(room, labels, text, LABEL, (1.2, 160.0), middle)


def _text(room: Room, labels: list[tuple[str, Box]], text: str, size: float, far: tuple[float, float], spot: Spot, bold: bool = False) -> Iterator[str]:
    """A text at the first free place between so near and so far from its spot, with a thin line to its spot where it is not beside it; beside it where none is free.

    Bold ones are the names of ports, which stand on the manifold's own drawing too: they are left out instead.
    """
    wide, high = width(text, size) + 0.4, size * _TEXT_HIGH
    box = room.free_around(*spot, wide, high, *far)
    if box is None and bold:
        return
    if box is None:
        box = centred(spot[0], spot[1] - 2, wide, high)
        room.add_box(box)
    x, y = min(max(spot[0], box.left), box.right), min(max(spot[1], box.top), box.bottom)
    if length_of((x, y), spot) > 4.5:
        yield line((spot, (x, y)), stroke=GREY, stroke_width=0.15)
    yield _written(labels, text, size, box, bold)


def _written(labels: list[tuple[str, Box]], text: str, size: float, box: Box, bold: bool = False) -> str:
    """A text in its box."""
    x, y = box.left + 0.2, box.bottom - 0.21 * size
    labels.append((text, box_of(x, y, text, size)))
    return words(x, y, text, size, font_weight="bold" if bold else None)
