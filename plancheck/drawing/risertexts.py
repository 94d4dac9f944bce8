"""The texts of a riser: size and length along the pipes, letters of ports, names of parts; each where it is clear of all else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plancheck.drawing.banding import Layout
from plancheck.drawing.branching import Node
from plancheck.drawing.glyphs import box_at, kind_of
from plancheck.drawing.letters import shortened, width
from plancheck.drawing.placing import Room
from plancheck.drawing.scene import Spot, label_of
from plancheck.drawing.svg import Box, words
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import ManifoldOwn

_LABEL, _NAME = 2.2, 2.4


def run_texts(
    layout: Layout, ways: Sequence[Sequence[Spot]], room: Room, labels: list[tuple[str, Box]]
) -> Iterator[str]:
    """Size and length beside the upright piece of each run, in two lines, read from the right; the port's name below."""
    for node, way in zip(layout.nodes, ways, strict=True):
        if node.port and way:
            yield from _beside(room, labels, node.port, (way[-1][0], way[0][1]), (1.4, 8.0), bold=True)
        if node.run is None or len(way) < 2:
            continue
        size, length = label_of(layout.facts, node.run)
        x, (y1, y2) = way[-1][0], (way[-2][1], way[-1][1])
        upright = abs(y1 - y2) > 1.0
        middle = (y1 + y2) / 2
        for text, side in ((size, -1.0), (length, 1.0)):
            if not text:
                continue
            long = width(text, _LABEL)
            if upright and long < abs(y1 - y2) + 4:
                yield from _upright(room, labels, text, x, middle, side, long)
            else:
                yield from _beside(room, labels, text, (x, middle), (1.2, 90.0))


def _upright(
    room: Room, labels: list[tuple[str, Box]], text: str, x: float, middle: float, side: float, long: float
) -> Iterator[str]:
    """A text along an upright line, beside it where there is room."""
    candidates = []
    for away in (1.9, -1.9, 3.0, -3.0):
        for shift in (0.0, 3.0, -3.0, 6.0, -6.0):
            at = x + side * away + (0.45 if side * away > 0 else 0.0)  # as far from the pipe on both sides
            candidates.append(
                Box(at - 0.6 * _LABEL, middle + shift - long / 2, at + 0.4 * _LABEL, middle + shift + long / 2)
            )
    box = room.first_free(candidates)
    if box is None:
        yield from _beside(room, labels, text, (x, middle), (1.5, 90.0))
        return
    labels.append((text, box))
    base_x, base_y = box.right - 0.25 * _LABEL, box.bottom
    yield words(base_x, base_y, text, _LABEL, transform=f"rotate(-90 {base_x:.2f} {base_y:.2f})")


def _beside(
    room: Room, labels: list[tuple[str, Box]], text: str, spot: Spot, far: tuple[float, float], bold: bool = False
) -> Iterator[str]:
    """A text at the first free place between so near and so far from its spot."""
    box = room.free_around(*spot, width(text, _LABEL) + 0.4, _LABEL, *far)
    if box is not None:
        labels.append((text, box))
        yield words(box.left + 0.2, box.bottom - 0.21 * _LABEL, text, _LABEL, font_weight="bold" if bold else None)


def part_texts(layout: Layout, room: Room, labels: list[tuple[str, Box]]) -> Iterator[str]:
    """The names of parts: upright above what ends a line, else beside it."""
    parents = {node.parent for node in layout.nodes}
    for number, (node, (x, y)) in enumerate(zip(layout.nodes, layout.spots, strict=True)):
        name = shortened(_name(layout.facts, node), _NAME, 40)
        if not name:
            continue
        part = layout.facts.plan.parts[node.part]
        high = 1.6 if node.again or isinstance(part.own, ManifoldOwn) else box_at(kind_of(part), x, y).bottom - y
        long = width(name, _NAME)
        if number not in parents:
            box = room.first_free(
                Box(x - 0.6 * _NAME + dx, y - high - 0.8 - long - up, x + 0.4 * _NAME + dx, y - high - 0.8 - up)
                for up in (0.0, 2.0)
                for dx in (0.0, 1.5, -1.5)
            )
            if box is not None:
                labels.append((name, box))
                at = (box.right - 0.25 * _NAME, box.bottom)
                yield words(*at, name, _NAME, transform=f"rotate(-90 {at[0]:.2f} {at[1]:.2f})")
                continue
        yield from _beside(room, labels, name, (x, y), (high + 0.8, 40.0))


def _name(facts: Facts, node: Node) -> str:
    part = facts.plan.parts[node.part]
    name = facts.part_name(node.part)
    if node.again:
        return f"to {name}"
    if node.side and len(KINDS[part.is_].connections) > 1:
        return f"{name}, {node.side}"
    if (
        KINDS[part.is_].sort in ("fixture", "heater", "manifold", "supply", "mixing")
        or part.name is not None
        or node.part == facts.main_valve
    ):
        return name
    return ""
