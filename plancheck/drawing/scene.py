"""The isometric before it is drawn: where every run and part comes to lie on which sheet, seen from which side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from plancheck.drawing.sheet import room_of, sizes_of
from plancheck.drawing.spots import Line, Spots, spots_of
from plancheck.drawing.stretch import Axes, axes_of
from plancheck.drawing.svg import Box, Segment
from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.model import Point, Ref
from plancheck.record import NamedTuple

_LEAST = 3.4  # the narrowest gap on paper, mm
# millimetres of paper for a metre, and the widest gap, the largest first
_SCALES = ((80.0, 120.0), (60.0, 85.0), (40.0, 55.0), (30.0, 55.0), (24.0, 55.0), (18.0, 55.0), (13.0, 55.0), (9.0, 55.0))
_TRIED = (24.0, 55.0)  # by which one looks for the best side
Spot = tuple[float, float]


class Drawn(NamedTuple):
    """A run on paper: the run, its corners in millimetres, its water, whether its path is the plan's own."""

    line: Line
    corners: tuple[Spot, ...]
    service: str | None


class Scene(NamedTuple):
    """Everything on paper before texts are placed. levels: of storeys, metres, with their place on a post at a corner."""

    facts: Facts
    spots: Spots
    runs: tuple[Drawn, ...]
    parts: Mapping[str, Spot]
    ports: Mapping[Ref, Spot]
    sheet: tuple[float, float]
    turned: int
    levels: tuple[tuple[float, Spot], ...]


def scene_of(facts: Facts) -> Scene:
    """Everything on paper, on the smallest sheet that gives it room, from the side that shows most."""
    spots = spots_of(facts)
    points = list(dict.fromkeys((*spots.parts.values(), *spots.ports.values(), *(point for one in spots.lines for point in one.corners))))
    points = points or [(0.0, 0.0, 0.0)]
    turned = max(range(4), key=lambda one: _told_apart(axes_of(points, _LEAST, _TRIED[1], _TRIED[0], one), points))
    post = _post(facts, points, axes_of(points, _LEAST, _TRIED[1], _TRIED[0], turned))
    points += post
    for sheet in sizes_of(facts):
        room = room_of(sheet)
        wide, high = room.right - room.left - 20, room.bottom - room.top - 16
        for per_metre, most in _SCALES:
            axes = axes_of(points, _LEAST, most, per_metre, turned)
            extent = _extent(axes, points)
            if extent.right - extent.left <= wide and extent.bottom - extent.top <= high:
                return _on_sheet(facts, spots, axes, extent, sheet, 1.0, post)
    smaller = min(wide / (extent.right - extent.left), high / (extent.bottom - extent.top))
    return _on_sheet(facts, spots, axes, extent, sheet, smaller, post)


def _post(facts: Facts, points: Sequence[Point], axes: Axes) -> list[Point]:
    """Points at the levels of the storeys, one over the other at the corner of the house where they take least more room and
    hide nothing; none where fewer than two levels are said."""
    levels = sorted({place.level.m for place in facts.plan.places.values() if isinstance(place.level, Length)})
    if len(levels) < 2:
        return []
    sides = [[(pick(point[axis] for point in points), way) for pick, way in ((min, -0.5), (max, 0.5))] for axis in (0, 1)]
    corners = [(east, north) for east in sides[0] for north in sides[1]]
    posts = [[(east + out, north + aside, level) for level in levels] for (east, out), (north, aside) in corners]
    whole_ = _extent(axes, points)

    def cost(post: list[Point]) -> float:
        found = _extent(axes, [*points, *post])
        grown = (found.right - found.left) - (whole_.right - whole_.left) + (found.bottom - found.top) - (whole_.bottom - whole_.top)
        near = min(abs(axes.on_paper(post[0])[0] - axes.on_paper(point)[0]) for point in points)
        return grown + max(0.0, 10.0 - near)

    return min(posts, key=cost)


def _told_apart(axes: Axes, points: Sequence[tuple[float, float, float]]) -> int:
    """How many different places on paper the points have: the more, the less lies on top of each other."""
    return len({(round(x / 2.0), round(y / 2.0)) for x, y in map(axes.on_paper, points)})


def _extent(axes: Axes, points: Sequence[tuple[float, float, float]]) -> Box:
    found = [axes.on_paper(point) for point in points]
    return Box(min(x for x, _ in found), min(y for _, y in found), max(x for x, _ in found), max(y for _, y in found))


def _on_sheet(facts: Facts, spots: Spots, axes: Axes, extent: Box, sheet: tuple[float, float], scale: float, post: Sequence[Point]) -> Scene:
    room = room_of(sheet)
    left = (room.left + room.right - scale * (extent.left + extent.right)) / 2
    top = (room.top + room.bottom - scale * (extent.top + extent.bottom)) / 2

    def at(point: tuple[float, float, float]) -> Spot:
        x, y = axes.on_paper(point)
        return left + scale * x, top + scale * y

    runs = tuple(Drawn(one, tuple(map(at, one.corners)), facts.carried(one.run.id).service) for one in spots.lines)
    parts = {id_: at(point) for id_, point in spots.parts.items()}
    return Scene(facts, spots, runs, parts, {ref: at(point) for ref, point in spots.ports.items()}, sheet, axes.turned, tuple((point[2], at(point)) for point in post))


def flows(facts: Facts, run: str) -> int:
    """1 where water runs from `from` to `to`, -1 the other way, 0 where neither is traced."""
    edge = facts.run_edge(run)
    if edge is None or facts.carried(run).ring:
        return 0
    a, b, _, _ = facts.network.edges[edge]
    parents = facts.traced.parents
    return 1 if parents.get(b) == edge else -1 if parents.get(a) == edge else 0


def length_of(a: Spot, b: Spot) -> float:
    return float(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5)


def label_of(facts: Facts, drawn: Line) -> str:
    """Size, material where it is no plastic, and length of a run."""
    run = drawn.run
    tube = facts.plan.tubes.get(run.tube or "")
    size = tube.size.name if tube is not None and isinstance(tube.size, Size) else ""
    material = tube.material if tube is not None and tube.material in ("copper", "brass", "galvanised steel", "stainless steel", "lead") else ""
    length = facts.run_length_m(run.id)
    return "  ".join(filter(None, (" ".join(filter(None, (size, material))), facts.length(length) if length is not None else "")))


def made_up(scene: Scene) -> Iterator[Segment]:
    """The lines between things that are made up directly onto each other."""
    for part in scene.facts.plan.parts.values():
        if part.onto is not None and part.id in scene.parts and part.onto.part in scene.parts:
            yield Segment(*scene.ports.get(part.onto, scene.parts[part.onto.part]), *scene.parts[part.id])


def on_run(run: Drawn, steps: Sequence[str]) -> Spot:
    if len(steps) > 1 and steps[0] == "bends" and steps[1].isdigit() and 0 < int(steps[1]) < len(run.corners) - 1:
        return run.corners[int(steps[1])]
    a, b = max(pairwise(run.corners), key=lambda ends: length_of(*ends))
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
