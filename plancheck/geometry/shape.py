"""The shape of a run's path by itself: straight stretches, turns, what stands upright. Metres and radians."""

import math
from collections.abc import Mapping
from itertools import pairwise

from plancheck.measures import Length
from plancheck.model import Leg, PathPoint, Place, Point, Run
from plancheck.record import NamedTuple

PathItems = tuple[Leg | PathPoint, ...]
_STRAIGHT = 1e-6  # radians: legs closer in direction than this go on straight
_LEVEL = 1 + 1e-9  # a leg at 45 degrees counts as level, however its figures are rounded


class Stretch(NamedTuple):
    """One straight piece: where it starts along the path, its length, its ends from the path's start, upright or level."""

    start_m: float
    length_m: float
    a: Point
    b: Point
    upright: bool


class Turn(NamedTuple):
    """One change of direction, numbered from 1: where along the path, by how much, and the straight on both sides."""

    number: int
    at_m: float
    angle: float
    before_m: float
    after_m: float


class Shape(NamedTuple):
    """A path by itself. corners are points from its start; origin is the start itself where measured points fix it."""

    corners: tuple[Point, ...]
    stretches: tuple[Stretch, ...]
    turns: tuple[Turn, ...]
    length_m: float
    upright_m: float
    about: bool
    origin: Point | None

    @property
    def vector(self) -> Point:
        """From the start of the path to its end."""
        return self.corners[-1]


def shape_of_path(path: PathItems, places: Mapping[str, Place], start: Point | None = None) -> Shape | None:
    """The shape of a path, or None where it cannot be walked: a measured point after legs whose start is not known.

    start: where the path begins, if known from elsewhere.
    """
    origin = start
    here: Point = (0.0, 0.0, 0.0)
    corners = [here]
    about = False
    for number, item in enumerate(path):
        if isinstance(item, Leg):
            here = (here[0] + item.east_m, here[1] + item.north_m, here[2] + item.up_m)
            about = about or item.about
        else:
            point = point_of(item, places)
            about = about or item.east.about or item.north.about or item.up.about
            if point is None:
                return None
            if number == 0:
                origin = point
                continue
            if origin is None:
                return None
            here = (point[0] - origin[0], point[1] - origin[1], point[2] - origin[2])
        corners.append(here)
    return _measured(tuple(corners), about, origin) if len(corners) > 1 else None


def point_of(item: PathPoint, places: Mapping[str, Place]) -> Point | None:
    """A measured point in the house frame; None where it counts from a floor whose level is not said."""
    up_m = item.up.m
    if item.above is not None:
        level = places[item.above].level if item.above in places else None
        if not isinstance(level, Length):
            return None
        up_m += level.m
    return (item.east.m, item.north.m, up_m)


def _measured(corners: tuple[Point, ...], about: bool, origin: Point | None) -> Shape:
    stretches: list[Stretch] = []
    turns: list[Turn] = []
    along = 0.0
    for a, b in pairwise(corners):
        length = math.dist(a, b)
        if length == 0:
            continue
        if stretches and _angle(stretches[-1], a, b, length) < _STRAIGHT:
            last = stretches.pop()
            stretches.append(_stretch(last.start_m, last.a, b))
        else:
            stretches.append(_stretch(along, a, b))
        along += length
    for number, (one, other) in enumerate(pairwise(stretches), 1):
        angle = _angle(one, other.a, other.b, other.length_m)
        turns.append(Turn(number, other.start_m, angle, one.length_m, other.length_m))
    upright = sum(stretch.length_m for stretch in stretches if stretch.upright)
    return Shape(corners, tuple(stretches), tuple(turns), along, upright, about, origin)


def _stretch(start_m: float, a: Point, b: Point) -> Stretch:
    level = math.hypot(b[0] - a[0], b[1] - a[1])
    return Stretch(start_m, math.dist(a, b), a, b, abs(b[2] - a[2]) > level * _LEVEL)


def _angle(one: Stretch, a: Point, b: Point, length: float) -> float:
    """By how much the direction changes between the stretch and the leg from a to b."""
    if one.length_m == 0 or length == 0:
        return 0.0
    dot = sum((one.b[axis] - one.a[axis]) * (b[axis] - a[axis]) for axis in range(3))
    return math.acos(max(-1.0, min(1.0, dot / (one.length_m * length))))


def at_distance(shape: Shape, along_m: float) -> Point:
    """The point of the path at the distance from its start, counted from its start."""
    for stretch in shape.stretches:
        if along_m <= stretch.start_m + stretch.length_m:
            part = max(0.0, along_m - stretch.start_m) / stretch.length_m
            a, b = stretch.a, stretch.b
            return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]), a[2] + part * (b[2] - a[2]))
    return shape.vector


def needs_start(run: Run) -> bool:
    """Whether the run has a measured point in the middle of its path."""
    return run.path is not None and any(isinstance(item, PathPoint) for item in run.path[1:])
