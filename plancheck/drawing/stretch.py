"""From metres to paper: along each axis narrow gaps are widened and wide ones shortened, in order; directions stay true.

So a manifold's ports are told apart on a sheet that holds the whole house. What is axis-parallel stays so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping

from plancheck.model import Point
from plancheck.record import NamedTuple

COS30, SIN30 = 3**0.5 / 2, 0.5
_SAME_M = 0.02  # coordinates closer than this are one


class Stretched(NamedTuple):
    """One axis: coordinates in metres, ascending, and their places in millimetres; known: places by coordinate."""

    metres: tuple[float, ...]
    places: tuple[float, ...]
    known: Mapping[float, float]

    def at(self, metre: float) -> float:
        """The place of a coordinate; between two known ones in proportion."""
        place = self.known.get(metre)
        if place is not None:
            return place
        number = bisect_left(self.metres, metre)
        if number == 0:
            return self.places[0]
        if number == len(self.metres):
            return self.places[-1]
        low, high = self.metres[number - 1], self.metres[number]
        share = (metre - low) / (high - low)
        return self.places[number - 1] + share * (self.places[number] - self.places[number - 1])


Way = tuple[int, float]  # by how many quarters one looks turned, how much wider north is drawn than east


class Axes(NamedTuple):
    """The three axes, and from where one looks."""

    east: Stretched
    north: Stretched
    up: Stretched
    way: Way = (0, 1.0)

    @property
    def turned(self) -> int:
        """By how many quarters."""
        return self.way[0]

    def along(self, point: Point) -> tuple[float, float, float]:
        """The place of a point along each axis, mm."""
        return self.east.at(point[0]), self.north.at(point[1]), self.up.at(point[2])

    def on_paper(self, point: Point) -> tuple[float, float]:
        """The place of a point on paper, y down, horizontals at 30 degrees."""
        return self.turned_by(self.way, *self.along(point))

    def turned_by(self, way: Way, east: float, north: float, up: float) -> tuple[float, float]:
        """The place on paper of what lies so far along each axis, looked at in a way."""
        turned, wider = way
        north *= wider
        wide, high = self.east.places[-1], self.north.places[-1] * wider
        if turned == 1:
            east, north = high - north, east
        elif turned == 2:
            east, north = wide - east, high - north
        elif turned == 3:
            east, north = north, wide - east
        return (east - north) * COS30, -(east + north) * SIN30 - up


def axes_of(points: Iterable[Point], least_mm: float, most_mm: float, per_metre_mm: float, way: Way = (0, 1.0)) -> Axes:
    """The axes that hold the points. least and most: how wide a gap is drawn; per_metre: what a gap is drawn at between."""
    found = list(points)
    east, north, up = (_axis({point[axis] for point in found}, least_mm, most_mm, per_metre_mm) for axis in range(3))
    return Axes(east, north, up, way)


def _axis(values: Iterable[float], least: float, most: float, per_metre: float) -> Stretched:
    metres: list[float] = []
    places: list[float] = []
    known: dict[float, float] = {}
    for value in sorted(values):
        if not metres or value - metres[-1] >= _SAME_M:
            places.append(places[-1] + min(max((value - metres[-1]) * per_metre, least), most) if metres else 0.0)
            metres.append(value)
        known[value] = places[-1]
    return Stretched(tuple(metres or [0.0]), tuple(places or [0.0]), known)


def east_of(turned: int) -> tuple[float, float]:
    """Which way east goes on paper, as a step of length one."""
    return north_of(turned + 3)


def north_of(turned: int) -> tuple[float, float]:
    """Which way north goes on paper, as a step of length one."""
    ways: Mapping[int, tuple[float, float]] = {
        0: (-COS30, -SIN30),
        1: (-COS30, SIN30),
        2: (COS30, SIN30),
        3: (COS30, -SIN30),
    }
    return ways[turned % 4]
