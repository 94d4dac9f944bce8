"""Walking paths from known ends, either way, to where the other ends must stand."""

import math

from plancheck.geometry.shape import Shape, point_of, shape_of_path
from plancheck.geometry.trust import SIDES_M, SPREAD, SURE, Trust, along, join, leaving, made_up
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import DIRECTIONS, ManifoldOwn, Part, PathPoint, Plan, Point, Ref, Run
from plancheck.network.joints import inward
from plancheck.record import NamedTuple

SAME_M = 1e-4  # metres: two walks nearer than this are one
_SIDES = Trust(SIDES_M)


class Miss(NamedTuple):
    """One thing measured in two ways.

    what: position (two walks), joint (two parts made up to each other), height (a part's height and a walk), ends (the
    heights of both ends and the run between), rise (a rise and the path of the same run) or length (tube and what it
    must span). run: whose path, rise or length tells the second figure; by: the run that tells the first, or the other
    part; part: where they meet. first_m and second_m: the figures along the axis that differs most (or the lengths);
    gap_m: how far apart; least_m: what is left of the gap when all that the plan leaves open is granted (see Trust);
    row: a manifold that does not say its row; about: an estimate they rest on; off: second less first, east, north, up.
    """

    what: str
    run: str
    part: str
    axis: str
    first_m: float
    second_m: float
    gap_m: float
    least_m: float
    row: str = ""
    about: str = ""
    off: Point = (0.0, 0.0, 0.0)
    by: str = ""


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
        self.climbed: set[str] = set()
        self.trust: dict[str, Trust] = {}
        self.reached: dict[str, tuple[str, str]] = {}  # part -> run by which it was first reached, and its connection

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
            if ref is not None and run.work != "removed":
                self.runs_at.setdefault(ref.part, []).append(run)

    def _from_point(self, run: Run) -> list[str]:
        """The ends of a run whose path begins at a measured point."""
        shape = self.shapes.get(run.id)
        if shape is None or shape.origin is None or run.from_ is None or run.to is None or run.work == "removed":
            return []
        self.walked.add(run.id)
        trust = along(run, shape.about)
        found = self._found(run, run.from_, shape.origin, trust)
        return found + self._found(run, run.to, plus(shape.origin, shape.vector), trust)

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
        if point is not None and isinstance(part.at, PathPoint):
            about = part.at.east.about or part.at.north.about or part.at.up.about
            self.trust[part.id] = Trust(0.0, "", f"where {part.id} is said to be") if about else SURE
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

    def _found(self, run: Run, ref: Ref, point: Point, trust: Trust) -> list[str]:
        """A walk along the run ended at the connection: a new position, or one to compare with the known."""
        part = self.plan.parts[ref.part]
        known = self.points.get(ref)
        if known is None:
            offset = self.offsets.get(ref.part, {}).get(ref.connection, (0.0, 0.0, 0.0))
            self._place(ref.part, minus(point, offset))
            self.trust[ref.part] = trust
            self.reached[ref.part] = (run.id, ref.connection)
            return [ref.part]
        if (run.id, ref.part) not in self.checked:
            self.checked.add((run.id, ref.part))
            trust = join(join(trust, self.trust.get(ref.part, SURE)), leaving(part, ref.connection))
            self.compared.append(self._position(run.id, ref, known, point, trust))
        return []

    def _position(self, run: str, ref: Ref, known: Point, point: Point, trust: Trust) -> Miss:
        off = minus(point, known)
        axis = max(range(3), key=lambda number: abs(off[number]))
        level = math.hypot(off[0], off[1])
        by, connection = self.reached.get(ref.part, ("", ""))
        if self.plan.parts[ref.part].is_ in SPREAD:
            level = level if connection == ref.connection else max(0.0, level - SIDES_M)
        least = max(0.0, math.hypot(level, off[2]) - trust.open_m)
        name = ("east", "north", "up")[axis]
        gap = math.dist(known, point)
        return Miss(
            "position", run, ref.part, name, known[axis], point[axis], gap, least, trust.row, trust.about, off, by
        )

    def _same_place(self, part: str, other: str) -> list[str]:
        """Places a part made up directly to one that stands, or compares the two where both are known."""
        here, there = self.joint(part, other)
        if here not in self.points:
            return []
        upper, lower = self.plan.parts[part], self.plan.parts[other]
        offset = self.offsets.get(other, {}).get(there.connection, (0.0, 0.0, 0.0))
        trust = join(join(self.trust.get(part, SURE), leaving(upper, here.connection)), made_up(upper, lower))
        if there not in self.points:
            self._place(other, minus(self.points[here], offset))
            self.trust[other] = trust
            self.checked.add((part, other))
            return [other]
        if not self.checked.isdisjoint(((part, other), (other, part))):
            return []
        self.checked.add((part, other))
        trust = join(join(trust, self.trust.get(other, SURE)), leaving(lower, there.connection))
        miss = self._position("", there, self.points[there], self.points[here], trust)
        self.compared.append(miss._replace(what="joint", by=part))
        return []

    def joint(self, part: str, other: str) -> tuple[Ref, Ref]:
        """The connections at which two parts are made up directly to each other."""
        upper, lower = self.plan.parts[part], self.plan.parts[other]
        joint = upper.onto if upper.onto is not None and upper.onto.part == other else lower.onto
        here = joint if joint is not None and joint.part == part else Ref(part, inward(upper))
        there = joint if joint is not None and joint.part == other else Ref(other, inward(lower))
        return here, there

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
        near, far = (run.from_, run.to) if start is not None else (run.to, run.from_)
        trust = join(self.trust_at(near), along(run, shape.about))
        if start is not None:
            return self._found(run, far, plus(start, shape.vector), trust)
        return self._found(run, far, minus(self.points[near], shape.vector), trust)

    def trust_at(self, ref: Ref, level: bool = True) -> Trust:
        """How far the position of a connection holds, of which only the part's may be said; or its height alone."""
        part = self.plan.parts[ref.part]
        trust = self.trust.get(ref.part, SURE)
        if self.reached.get(ref.part, ("", ""))[1] == ref.connection:
            return trust
        if level and part.is_ in SPREAD:
            trust = join(trust, _SIDES)
        return join(trust, leaving(part, ref.connection))


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
