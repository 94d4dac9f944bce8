"""The floors of an isometric: around what stands on each storey its outline, at the height of the floor."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from plancheck.drawing.spots import Spots
from plancheck.drawing.stretch import Axes, east_of, north_of
from plancheck.facts import Facts
from plancheck.measures import Length
from plancheck.model import Point
from plancheck.record import NamedTuple

_BEYOND_MM = 3.5  # so far the outline lies beyond what stands on the floor
Spot = tuple[float, float]


class Floor(NamedTuple):
    """A storey's floor: its level in metres, and the four corners of what stands on it, at that level."""

    level_m: float
    corners: tuple[Point, ...]


def floors_of(facts: Facts, spots: Spots) -> tuple[Floor, ...]:
    """The floors on which something of a plan stands, the lowest first; none where fewer than two levels are said."""
    levels = {id_: place.level.m for id_, place in facts.plan.places.items() if isinstance(place.level, Length)}
    if len(set(levels.values())) < 2:
        return ()
    found: dict[float, list[Point]] = {}
    ports: dict[str, list[Point]] = {}
    for ref, point in spots.ports.items():
        ports.setdefault(ref.part, []).append(point)
    for part in facts.plan.parts.values():
        level = levels.get(part.place or "")
        if level is not None and part.id in spots.parts:
            found.setdefault(level, []).append(spots.parts[part.id])
            found[level] += ports.get(part.id, ())
    return tuple(Floor(level, _around(points, level)) for level, points in sorted(found.items()))


def _around(points: Sequence[Point], level: float) -> tuple[Point, ...]:
    (west, east), (south, north) = (
        (min(values), max(values)) for values in (tuple(point[axis] for point in points) for axis in (0, 1))
    )
    return ((west, south, level), (east, south, level), (east, north, level), (west, north, level))


def outlines(
    floors: Sequence[Floor], places: Mapping[Point, Spot], axes: Axes
) -> Iterator[tuple[float, tuple[Spot, ...]]]:
    """On paper the level and the corners of each outline. places: where the corners of the floors lie on the sheet."""
    (ex, ey), (nx, ny) = east_of(axes.turned), north_of(axes.turned)
    ways = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    for floor in floors:
        corners = []
        for point, (east, north) in zip(floor.corners, ways, strict=True):
            x, y = places[point]
            corners.append((x + _BEYOND_MM * (east * ex + north * nx), y + _BEYOND_MM * (east * ey + north * ny)))
        yield floor.level_m, tuple(corners)
