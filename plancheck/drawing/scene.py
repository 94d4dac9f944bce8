"""The isometric before it is drawn: where every run and part comes to lie on which sheet, seen from which side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from plancheck.drawing.apart import apart_of, beside
from plancheck.drawing.floors import Floor, floors_of, outlines
from plancheck.drawing.sharing import Share, shared
from plancheck.drawing.sheet import room_of, sizes_of
from plancheck.drawing.spots import Line, Spots, spots_of
from plancheck.drawing.stretch import Axes, Way, axes_of
from plancheck.drawing.svg import Box, Segment
from plancheck.drawing.viewing import best_way
from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.model import ManifoldOwn, Point, Port, Ref, Run
from plancheck.record import NamedTuple

_LEAST = 3.4  # the narrowest gap on paper, mm
# millimetres of paper for a metre, and the widest gap, the largest first
_SCALES = ((80.0, 120.0), (60.0, 85.0), (40.0, 55.0), (30.0, 55.0), (24.0, 55.0), (18.0, 55.0), (13.0, 55.0), (9.0, 55.0))
_TRIED = (24.0, 55.0)  # by which one looks for the best side
_NO_PLASTIC = ("copper", "brass", "galvanised steel", "stainless steel", "lead")
Spot = tuple[float, float]


class Drawn(NamedTuple):
    """A run on paper: the run, its corners in millimetres, its water, whether its path is the plan's own."""

    line: Line
    corners: tuple[Spot, ...]
    service: str | None


class Scene(NamedTuple):
    """Everything on paper before texts are placed. floors: of storeys, their level in metres and the corners of their outline."""

    facts: Facts
    spots: Spots
    runs: tuple[Drawn, ...]
    parts: Mapping[str, Spot]
    ports: Mapping[Ref, Spot]
    sheet: tuple[float, float]
    turned: int
    floors: tuple[tuple[float, tuple[Spot, ...]], ...]


def scene_of(facts: Facts, share: Share | None = None) -> Scene:
    """Everything on paper, on the smallest sheet that gives it room, from the side that shows most. share: that part of it."""
    spots = spots_of(facts) if share is None else shared(facts, spots_of(facts), share)
    points = list(dict.fromkeys((*spots.parts.values(), *spots.ports.values(), *(point for one in spots.lines for point in one.corners))))
    points = points or [(0.0, 0.0, 0.0)]
    way = best_way(facts, spots, axes_of(points, _LEAST, _TRIED[1], _TRIED[0]))
    floors = floors_of(facts, spots)
    points += [corner for floor in floors for corner in floor.corners]
    tried: dict[float, tuple[Axes, Box]] = {}
    for sheet in sizes_of(facts):
        per_metre = _fitting(sheet, points, way, tried)
        if per_metre is not None:
            return _on_sheet(facts, spots, *tried[per_metre], sheet, 1.0, floors)
    axes, extent = tried[_SCALES[-1][0]]
    smaller = min(size / (high - low) for size, low, high in _sides(sheet, extent) if high - low > size)
    return _on_sheet(facts, spots, axes, extent, sheet, smaller, floors)


def _fitting(sheet: tuple[float, float], points: Sequence[Point], way: Way, tried: dict[float, tuple[Axes, Box]]) -> float | None:
    """The largest scale at which everything fits on a sheet, None where not even the smallest does; tried keeps the axes of
    each scale."""
    found = None
    for per_metre, most in reversed(_SCALES):  # the smallest first, as most sheets are too small for any
        if per_metre not in tried:
            axes = axes_of(points, _LEAST, most, per_metre, way)
            tried[per_metre] = axes, _extent(axes, points)
        if any(high - low > size for size, low, high in _sides(sheet, tried[per_metre][1])):
            break
        found = per_metre
    return found


def _sides(sheet: tuple[float, float], extent: Box) -> tuple[tuple[float, float, float], ...]:
    """Of both sides of a sheet what room there is, and from where to where a drawing reaches."""
    room = room_of(sheet)
    return (room.right - room.left - 20, extent.left, extent.right), (room.bottom - room.top - 16, extent.top, extent.bottom)


def _extent(axes: Axes, points: Sequence[tuple[float, float, float]]) -> Box:
    found = [axes.on_paper(point) for point in points]
    return Box(min(x for x, _ in found), min(y for _, y in found), max(x for x, _ in found), max(y for _, y in found))


def _on_sheet(facts: Facts, spots: Spots, axes: Axes, extent: Box, sheet: tuple[float, float], scale: float, floors: Sequence[Floor]) -> Scene:
    room = room_of(sheet)
    left = (room.left + room.right - scale * (extent.left + extent.right)) / 2
    top = (room.top + room.bottom - scale * (extent.top + extent.bottom)) / 2

    def at(point: tuple[float, float, float]) -> Spot:
        x, y = axes.on_paper(point)
        return left + scale * x, top + scale * y

    moved = apart_of(facts, spots)
    runs = tuple(_drawn(one, facts.carried(one.run.id).service, at) for one in spots.lines)
    shown = tuple(outlines(floors, {corner: at(corner) for floor in floors for corner in floor.corners}, axes))
    parts = {id_: beside(at(point), moved.get(id_)) for id_, point in spots.parts.items()}
    ports = {ref: beside(at(point), moved.get(ref.part)) for ref, point in spots.ports.items()}
    return Scene(facts, spots, runs, parts, ports, sheet, axes.turned, shown)


def _drawn(one: Line, service: str | None, at: Callable[[Point], Spot]) -> Drawn:
    return Drawn(one, tuple(beside(at(corner), service) for corner in one.corners), service)


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


def label_of(facts: Facts, run: Run) -> tuple[str, str]:
    """Size, with the material where it is no plastic, and length of a run, "about" where it is an estimate; empty if unsaid."""
    tube = facts.plan.tubes.get(run.tube or "")
    size = tube.size if tube is not None and isinstance(tube.size, Size) else None
    name = "" if size is None else size.name if size.metric else f'{size.name}"'
    material = tube.material if tube is not None and tube.material in _NO_PLASTIC else ""
    length = facts.run_length_m(run.id)
    about = "about " if _is_estimate(facts, run) else ""
    return " ".join(filter(None, (name, material))), f"{about}{facts.length(length)}" if length is not None else ""


def _is_estimate(facts: Facts, run: Run) -> bool:
    if isinstance(run.length, Length):
        return run.length.about
    shape = facts.geometry.shapes.get(run.id)
    return shape is not None and shape.about


def port_of(facts: Facts, ref: Ref | None) -> Port | None:
    """The port of a manifold that a run ends at, if it does."""
    part = facts.plan.parts.get(ref.part) if ref is not None else None
    own = part.own if part is not None else None
    return own.ports.get(ref.connection) if isinstance(own, ManifoldOwn) and ref is not None else None


def made_up(scene: Scene) -> Iterator[Segment]:
    """The lines between things that are made up directly onto each other."""
    for part in scene.facts.plan.parts.values():
        if part.onto is not None and part.id in scene.parts and part.onto.part in scene.parts:
            yield Segment(*scene.ports.get(part.onto, scene.parts[part.onto.part]), *scene.parts[part.id])
