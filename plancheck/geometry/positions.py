"""Where connections stand: found by walking paths from known ends, either way; walks that miss each other are kept.

Known are the parts that say where they stand (`at`), paths that begin at a measured point, and, for heights alone, a
`height` above the floor of a place whose level is said. Metres: east, north and up from the plan's zero.
"""

from collections.abc import Mapping
from typing import NamedTuple

from plancheck.geometry.heights import find_heights
from plancheck.geometry.shape import Shape
from plancheck.geometry.walker import SAME_M, Miss, Walker, minus, plus
from plancheck.measures import Length
from plancheck.model import Plan, Point, Ref, Run


class Geometry(NamedTuple):
    """shapes: of each run with a path; points: of each connection found; heights: up alone, more of them.

    compared: everything that was measured in two ways, with how far the two figures are apart.
    """

    shapes: Mapping[str, Shape]
    points: Mapping[Ref, Point]
    heights: Mapping[Ref, float]
    compared: tuple[Miss, ...]

    @property
    def misses(self) -> tuple[Miss, ...]:
        """The comparisons whose figures differ at all."""
        return tuple(miss for miss in self.compared if miss.gap_m > SAME_M)

    def corners(self, run: Run) -> tuple[Point, ...] | None:
        """The corners of the run's path in the house frame, or None where its ends are not known."""
        shape = self.shapes.get(run.id)
        if shape is None:
            return None
        start = shape.origin
        if start is None and run.from_ is not None:
            start = self.points.get(run.from_)
        if start is None and run.to is not None and run.to in self.points:
            end = self.points[run.to]
            start = minus(end, shape.vector)
        if start is None:
            return None
        return tuple(plus(start, corner) for corner in shape.corners)


def find_geometry(plan: Plan) -> Geometry:
    """The shapes and positions of a plan."""
    walker = Walker(plan)
    walker.walk()
    heights = find_heights(walker)
    compared = walker.compared + _lengths_compared(plan, walker.shapes)
    return Geometry(walker.shapes, walker.points, heights, tuple(compared))


def _lengths_compared(plan: Plan, shapes: Mapping[str, Shape]) -> list[Miss]:
    """Tube against its path, or against its rise; the gap is what the tube lacks."""
    found = []
    for run in plan.runs.values():
        if not isinstance(run.length, Length):
            continue
        shape = shapes.get(run.id)
        least = shape.length_m if shape is not None else abs(run.rise.m) if isinstance(run.rise, Length) else 0.0
        if least > 0:
            part = run.to.part if run.to is not None else ""
            found.append(Miss("length", run.id, part, "along", run.length.m, least, max(0.0, least - run.length.m)))
    return found
