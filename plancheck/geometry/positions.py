"""Where connections stand: found by walking paths from known ends, either way; walks that miss each other are kept.

Known are the parts that say where they stand (`at`), paths that begin at a measured point, and, for heights alone, a
`height` above the floor of a place whose level is said. Metres: east, north and up from the plan's zero.
"""

import math
from collections.abc import Mapping

from plancheck.geometry.heights import find_heights
from plancheck.geometry.shape import Shape
from plancheck.geometry.trust import SURE, Trust, along, join
from plancheck.geometry.walker import SAME_M, Miss, Walker, minus, plus
from plancheck.measures import Length
from plancheck.model import Plan, Point, Ref, Run
from plancheck.record import NamedTuple


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
    compared = walker.compared + _lengths_compared(walker, heights)
    return Geometry(walker.shapes, walker.points, heights, tuple(compared))


def _lengths_compared(walker: Walker, heights: Mapping[Ref, float]) -> list[Miss]:
    """Tube against what it must span, where the gap is what it lacks; and a rise against the path of the same run."""
    found = []
    for run in walker.plan.runs.values():
        shape = walker.shapes.get(run.id)
        if run.work == "removed":
            continue
        part = run.to.part if run.to is not None else ""
        if shape is not None and isinstance(run.rise, Length):
            first, second = run.rise.m, shape.vector[2]
            gap, about = abs(second - first), run.rise.text if run.rise.about else along(run, shape.about).about
            found.append(
                Miss("rise", run.id, part, "up", first, second, gap, gap, "", about, (0.0, 0.0, second - first))
            )
        if isinstance(run.length, Length):
            axis, least, trust = _span(walker, heights, run, shape)
            if least > 0:
                gap = max(0.0, least - run.length.m)
                unsure = run.length.about and run.length.m < 2 * least  # no estimate is off by half
                about = run.length.text if unsure else trust.about
                left = max(0.0, gap - trust.open_m)
                found.append(Miss("length", run.id, part, axis, run.length.m, least, gap, left, trust.row, about))
    return found


def _span(walker: Walker, heights: Mapping[Ref, float], run: Run, shape: Shape | None) -> tuple[str, float, Trust]:
    """What the tube of a run must span at least, by what: its path, its rise, or where its ends stand."""
    if shape is not None:
        return "path", shape.length_m, along(run, shape.about)
    if isinstance(run.rise, Length):
        return "rise", abs(run.rise.m), along(run, run.rise.about)
    if run.from_ is None or run.to is None:
        return "", 0.0, SURE
    start, end = walker.points.get(run.from_), walker.points.get(run.to)
    trust = join(walker.trust_at(run.from_), walker.trust_at(run.to))
    if start is not None and end is not None:
        return "distance", math.dist(start, end), trust
    if run.from_ in heights and run.to in heights:
        return "heights", abs(heights[run.from_] - heights[run.to]), trust
    return "", 0.0, SURE
