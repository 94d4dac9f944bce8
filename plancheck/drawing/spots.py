"""Where everything of a plan stands in a drawing, in metres: as the plan says, else beside what it hangs on.

What the plan ties to no point gets one a step away from its neighbour, so that nothing is lost; things made up directly
onto each other, which the plan puts at one point, are set apart by a step.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping

from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import ManifoldOwn, Part, Point, Ref, Run
from plancheck.record import NamedTuple

_STEP_M, _LONGEST_M = 0.35, 1.6
_WAYS: tuple[Point, ...] = ((-1, 0, 0), (0, -1, 0), (0, 0, 1), (1, 0, 0), (0, 1, 0), (0, 0, -1))


class Line(NamedTuple):
    """A run as it is drawn: its corners; shown: whether they are those of the plan, or a stand-in; before: how many of the
    corners lie before the plan's path begins; behind: how many after it ends."""

    run: Run
    corners: tuple[Point, ...]
    shown: bool
    before: int = 0
    behind: int = 0


class Spots(NamedTuple):
    """parts: by id; ports: of manifolds by (part, connection); lines: of runs; apart: parts that nothing ties to the rest."""

    parts: Mapping[str, Point]
    ports: Mapping[Ref, Point]
    lines: tuple[Line, ...]
    apart: tuple[str, ...]

    def at(self, ref: Ref) -> Point:
        """Where a connection stands."""
        return self.ports.get(ref) or self.parts[ref.part]


def spots_of(facts: Facts) -> Spots:
    """The places of all parts and runs of a plan that are not removed."""
    return _Placing(facts).spots()


def cut_off(facts: Facts) -> tuple[str, ...]:
    """The runs that end at a part which is taken out: there is no place to draw them to."""
    gone = {part.id for part in facts.plan.parts.values() if part.work == "removed"}
    ends = ((run.id, {ref.part for ref in (run.from_, run.to) if ref is not None}) for run in facts.plan.runs.values() if run.work != "removed")
    return tuple(id_ for id_, parts in ends if parts & gone)


def cut_words(facts: Facts) -> Iterator[str]:
    """The same in words, if there are any."""
    found = cut_off(facts)
    if found:
        yield f"Not drawn, as an end of it is taken out: {', '.join(found[:4])}{' and more' if len(found) > 4 else ''}."


class _Placing:
    """The places while they are found."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.plan = facts.plan
        self.parts: dict[str, Point] = {}
        self.ports: dict[Ref, Point] = {}
        self.taken: dict[tuple[int, int, int], set[str]] = {}  # by which waters, "" for a thing of several
        self.wanted = [part for part in self.plan.parts.values() if part.work != "removed"]
        out = set(cut_off(facts))
        self.runs = [run for run in self.plan.runs.values() if run.work != "removed" and run.from_ and run.to and run.id not in out]
        self.waters: dict[str, set[str]] = {}
        for run in self.runs:
            for ref in (run.from_, run.to):
                if ref is not None:
                    self.waters.setdefault(ref.part, set()).add(facts.carried(run.id).service or "")
        self.near = self._near()
        self.apart: list[str] = []

    def spots(self) -> Spots:
        self._anchors()
        waiting = deque(self.parts)
        self._spread(waiting)
        for part in self.wanted:  # what hangs together with nothing that is placed: beside the rest
            if part.id not in self.parts:
                self.apart.append(part.id)
                self._put(part, self._beside())
                self._spread(deque([part.id]))
        return Spots(self.parts, self.ports, tuple(self._lines()), tuple(self.apart))

    def _near(self) -> dict[str, list[tuple[str, float, bool]]]:
        """For each part those it is joined to: which, how far in the drawing, whether water goes there from it."""
        found: dict[str, list[tuple[str, float, bool]]] = {part.id: [] for part in self.wanted}
        for part in self.wanted:
            if part.onto is not None and part.onto.part in found:
                found[part.id].append((part.onto.part, _STEP_M, False))
                found[part.onto.part].append((part.id, _STEP_M, True))
        for run in self.runs:
            assert run.from_ is not None
            assert run.to is not None
            length = self.facts.run_length_m(run.id)
            far = min(max(length or _STEP_M, _STEP_M), _LONGEST_M)
            found[run.from_.part].append((run.to.part, far, True))
            found[run.to.part].append((run.from_.part, far, False))
        return found

    def _anchors(self) -> None:
        """Parts whose place the plan tells: manifolds, those at the end of a drawn path, those that say it; one a point."""
        points = self.facts.geometry.points
        walked = {ref.part for run in self.runs if run.path for ref in (run.from_, run.to) if ref is not None}
        first = sorted(self.wanted, key=lambda part: (not isinstance(part.own, ManifoldOwn), part.id not in walked))
        by_part: dict[str, list[tuple[Ref, Point]]] = {}
        for ref, point in points.items():
            by_part.setdefault(ref.part, []).append((ref, point))
        for part in first:
            own = by_part.get(part.id, [])
            if not own or (part.id not in walked and not isinstance(part.own, ManifoldOwn) and part.at is None):
                continue
            if isinstance(part.own, ManifoldOwn):
                self.ports.update(own)
                self._take(*(point for _, point in own))
                self.parts[part.id] = own[0][1]
            elif part.onto is None or not self._is_taken(own[0][1]):
                self._put(part, self._aside(own[0][1], self._water(part.id)))

    def _take(self, *points: Point, water: str = "") -> None:
        for point in points:
            self.taken.setdefault(_cell(point), set()).add(water)

    def _water(self, part: str) -> str:
        """The water of a tee or device that has one alone; waters are drawn beside each other, so two fit in one place."""
        found = self.waters.get(part) or set[str]()
        return next(iter(found)) if len(found) == 1 and KINDS[self.plan.parts[part].is_].sort in ("fork", "device", "end") else ""

    def _is_taken(self, point: Point, water: str = "") -> bool:
        there = self.taken.get(_cell(point))
        return there is not None and (not water or water in there or "" in there)

    def _aside(self, point: Point, water: str) -> Point:
        """The point, or one a hand's width from it where something else stands there already."""
        for far in (0.0, 0.15, 0.3, 0.45):
            for way in _WAYS:
                moved = (point[0] + way[0] * far, point[1] + way[1] * far, point[2] + way[2] * far)
                if not self._is_taken(moved, water):
                    return moved
        return point

    def _spread(self, waiting: deque[str]) -> None:
        """Places what hangs on what is placed, a step further each."""
        while waiting:
            here = waiting.popleft()
            for other, far, downstream in self.near[here]:
                if other not in self.parts:
                    self._put(self.plan.parts[other], self._free(here, other, far, downstream))
                    waiting.append(other)

    def _free(self, here: str, other: str, far: float, downstream: bool) -> Point:
        """A free place beside a part: upstream to the west, downstream to the east, ends up and down."""
        start = self._start(here, other)
        up = self._up(here, other)
        ends = len(self.near[other]) == 1
        ways = (_WAYS[2], _WAYS[5], _WAYS[4], _WAYS[1]) if ends else (_WAYS[3], _WAYS[4]) if downstream else (_WAYS[0], _WAYS[1])
        if up is not None:  # how much higher it stands is said; which way it lies is not
            start = (start[0], start[1], start[2] + up)
            ways = tuple(way for way in (*ways, *_WAYS) if not way[2])
        for stretch in (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 9.0, 14.0):
            for way in ways if up is not None else (*ways, *_WAYS):
                point = (start[0] + way[0] * far * stretch, start[1] + way[1] * far * stretch, start[2] + way[2] * far * stretch)
                if not self._is_taken(point):
                    return point
        return start

    def _up(self, here: str, other: str) -> float | None:
        """How much higher the other end of the join between two parts stands: as the heights of the plan tell, else as the
        run's rise says; None where neither does."""
        heights = self.facts.geometry.heights
        for run in self.runs:
            for ref, end, way in ((run.from_, run.to, 1.0), (run.to, run.from_, -1.0)):
                if ref is not None and end is not None and ref.part == here and end.part == other:
                    if ref in heights and end in heights:
                        return heights[end] - heights[ref]
                    return way * run.rise.m if isinstance(run.rise, Length) else None
        return None

    def _start(self, here: str, other: str) -> Point:
        """Where the join between two parts begins: at the port of a manifold, else at the part."""
        for run in self.runs:
            for ref, end in ((run.from_, run.to), (run.to, run.from_)):
                if ref is not None and end is not None and ref.part == here and end.part == other:
                    return self.ports.get(ref) or self.parts[here]
        onto = self.plan.parts[other].onto
        return (self.ports.get(onto) if onto is not None and onto.part == here else None) or self.parts[here]

    def _put(self, part: Part, point: Point) -> None:
        self.parts[part.id] = point
        self._take(point, water=self._water(part.id))
        if isinstance(part.own, ManifoldOwn) and not any(ref.part == part.id for ref in self.ports):
            for number, port in enumerate(part.own.ports):
                at = (point[0] + number * _STEP_M, point[1], point[2])
                self.ports[Ref(part.id, port)] = at
                self._take(at)

    def _beside(self) -> Point:
        """A place beside all that stands."""
        points = [*self.parts.values(), *self.ports.values()] or [(0.0, 0.0, 0.0)]
        return (max(point[0] for point in points) + 1.0, min(point[1] for point in points), min(point[2] for point in points))

    def _lines(self) -> Iterator[Line]:
        for run in self.runs:
            assert run.from_ is not None
            assert run.to is not None
            ends = [self.ports.get(ref) or self.parts[ref.part] for ref in (run.from_, run.to)]
            corners = self.facts.geometry.corners(run)
            if corners is None:
                yield Line(run, _elbowed(ends[0], ends[1]), False)
            else:
                off = [int(_cell(corners[place]) != _cell(end)) for place, end in zip((0, -1), ends, strict=True)]
                yield Line(run, _ended(corners, ends), True, *off)


def _cell(point: Point) -> tuple[int, int, int]:
    """A point in steps of a hand's width, to tell whether a place is taken."""
    return (round(point[0] / 0.1), round(point[1] / 0.1), round(point[2] / 0.1))


def _ended(corners: tuple[Point, ...], ends: list[Point]) -> tuple[Point, ...]:
    """The corners of a path between ends that may have been set aside from where it begins and stops."""
    found = list(corners)
    for place, end in ((0, ends[0]), (-1, ends[1])):
        if _cell(found[place]) != _cell(end):
            found.insert(0 if place == 0 else len(found), end)
    return tuple(found)


def _elbowed(start: Point, end: Point) -> tuple[Point, ...]:
    """A stand-in for a path that the plan does not draw: level first, then upright, along the axes."""
    level = (end[0], start[1], start[2])
    turned = (end[0], end[1], start[2])
    found = [start]
    for point in (level, turned, end):
        if _cell(point) != _cell(found[-1]):
            found.append(point)
    return tuple(found) if len(found) > 1 else (start, end)
