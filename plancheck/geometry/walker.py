"""Walking paths from known ends, either way, to where the other ends must stand."""

import math
from typing import NamedTuple

from plancheck.geometry.shape import Shape, point_of, shape_of_path
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import DIRECTIONS, ManifoldOwn, Part, PathPoint, Plan, Point, Ref, Run
from plancheck.network.graph import inward

SAME_M = 1e-4  # metres: two walks nearer than this are one


class Miss(NamedTuple):
    """Two ways of measuring one thing that differ.

    what: position, height or length; run: the run whose path tells the second figure; part: where they meet.
    first_m and second_m: the two figures along the axis that differs most (or the lengths); gap_m: how far apart.
    """

    what: str
    run: str
    part: str
    axis: str
    first_m: float
    second_m: float
    gap_m: float


def plus(a: Point, b: Point) -> Point:
    """The point b away from a."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Point, b: Point) -> Point:
    """From b to a."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


class Walker:
    """Walks the paths of a plan outward from what is known; shapes, points and comparisons are what it finds."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.shapes: dict[str, Shape] = {}
        self.points: dict[Ref, Point] = {}
        self.compared: list[Miss] = []
        self.offsets = {part.id: _offsets(part) for part in plan.parts.values() if part.is_ == "manifold"}
        self.runs_at: dict[str, list[Run]] = {}
        self.walked: set[str] = set()
        self.checked: set[tuple[str, str]] = set()

    def walk(self) -> None:
        """Finds every shape and every position that the plan gives."""
        for run in self.plan.runs.values():
            self._shape(run)
        onto = self.joints()
        frontier = [part.id for part in self.plan.parts.values() if self._stands(part)]
        for run in self.plan.runs.values():
            frontier += self._from_point(run)
        for part in frontier:  # grows while it is walked
            for other in onto.get(part, ()):
                frontier += self._same_place(part, other)
            for run in self.runs_at.get(part, ()):
                frontier += self._along(run)

    def _shape(self, run: Run) -> None:
        shape = shape_of_path(run.path, self.plan.places) if run.path else None
        if shape is not None:
            self.shapes[run.id] = shape
        for ref in (run.from_, run.to):
            if ref is not None:
                self.runs_at.setdefault(ref.part, []).append(run)

    def _from_point(self, run: Run) -> list[str]:
        """The ends of a run whose path begins at a measured point."""
        shape = self.shapes.get(run.id)
        if shape is None or shape.origin is None or run.from_ is None or run.to is None:
            return []
        self.walked.add(run.id)
        found = self._found(run, run.from_, shape.origin)
        return found + self._found(run, run.to, plus(shape.origin, shape.vector))

    def joints(self) -> dict[str, list[str]]:
        """For each part the parts made up directly to it, either way round."""
        found: dict[str, list[str]] = {}
        for part in self.plan.parts.values():
            if part.onto is not None:
                found.setdefault(part.id, []).append(part.onto.part)
                found.setdefault(part.onto.part, []).append(part.id)
        return found

    def _stands(self, part: Part) -> bool:
        point = point_of(part.at, self.plan.places) if isinstance(part.at, PathPoint) else None
        if point is not None:
            self._place(part.id, point)
        return point is not None

    def _place(self, part: str, point: Point) -> None:
        """All connections of a part stand at its point, a manifold's along its row."""
        offsets = self.offsets.get(part)
        if offsets is not None:
            for port, offset in offsets.items():
                self.points[Ref(part, port)] = plus(point, offset)
            return
        for connection in KINDS[self.plan.parts[part].is_].connections:
            self.points[Ref(part, connection)] = point

    def _found(self, run: Run, ref: Ref, point: Point) -> list[str]:
        """A walk along the run ended at the connection: a new position, or one to compare with the known."""
        known = self.points.get(ref)
        if known is None:
            offset = self.offsets.get(ref.part, {}).get(ref.connection, (0.0, 0.0, 0.0))
            self._place(ref.part, minus(point, offset))
            return [ref.part]
        gap = math.dist(known, point)
        if (run.id, ref.part) not in self.checked:
            axis = max(range(3), key=lambda number: abs(known[number] - point[number]))
            name = ("east", "north", "up")[axis]
            self.compared.append(Miss("position", run.id, ref.part, name, known[axis], point[axis], gap))
        self.checked.add((run.id, ref.part))
        return []

    def _same_place(self, part: str, other: str) -> list[str]:
        ref = next((ref for ref in (Ref(other, name) for name in self.connections_of(other)) if ref in self.points), None)
        if ref is not None:
            return []
        upper, lower = self.plan.parts[part], self.plan.parts[other]
        joint = upper.onto if upper.onto is not None and upper.onto.part == other else lower.onto
        here = joint if joint is not None and joint.part == part else Ref(part, inward(upper))
        there = joint if joint is not None and joint.part == other else Ref(other, inward(lower))
        if here not in self.points or there is None:
            return []
        offset = self.offsets.get(other, {}).get(there.connection, (0.0, 0.0, 0.0))
        self._place(other, minus(self.points[here], offset))
        return [other]

    def connections_of(self, part: str) -> tuple[str, ...]:
        """The names of a part's connections, a manifold's ports among them."""
        return tuple(self.offsets.get(part) or KINDS[self.plan.parts[part].is_].connections)

    def _along(self, run: Run) -> list[str]:
        if run.id in self.walked or run.from_ is None or run.to is None or not run.path:
            return []
        start = self.points.get(run.from_)
        shape = self.shapes.get(run.id)
        if shape is None:
            shape = shape_of_path(run.path, self.plan.places, start) if start is not None else None
            if shape is None:
                return []
            self.shapes[run.id] = shape
        self.walked.add(run.id)
        if start is not None:
            return self._found(run, run.to, plus(start, shape.vector))
        return self._found(run, run.from_, minus(self.points[run.to], shape.vector))


def _offsets(part: Part) -> dict[str, Point]:
    """Where each port of a manifold stands from its first, along its row; all at one point where no row is said."""
    if not isinstance(part.own, ManifoldOwn):
        return {}
    own = part.own
    way = DIRECTIONS.get(own.row or "", (0, 0, 0))
    found: dict[str, Point] = {}
    along = 0.0
    for port in own.ports.values():
        found[port.id] = (way[0] * along, way[1] * along, way[2] * along)
        step = port.next if isinstance(port.next, Length) else own.spacing
        along += step.m if isinstance(step, Length) else 0.0
    return found
