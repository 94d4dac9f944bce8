"""How far straight pieces of lines are apart: nearest points, and whether one passes over the other. Metres."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from plancheck.model import Point
from plancheck.record import NamedTuple

Piece = tuple[Point, Point]
Span = tuple[float, float]  # from where to where along a piece, 0 to 1

_SMALL = 1e-12
_ROUNDING_M = 1e-9


class Gap(NamedTuple):
    """The least distance between two pieces, and the points of the first and of the second where it is."""

    m: float
    p: Point
    q: Point


class Placed(NamedTuple):
    """A straight piece of a line, and how far along the line it starts."""

    start_m: float
    piece: Piece


def pieces_of(line: Sequence[Point]) -> list[Placed]:
    """The straight pieces of a line; a single point is a piece of no length."""
    found, along_m = [], 0.0
    for piece in pairwise(line) if len(line) > 1 else [(line[0], line[0])]:
        found.append(Placed(along_m, piece))
        along_m += math.dist(*piece)
    return found


def parted(pieces: Iterable[Placed], from_m: float, to_m: float) -> tuple[list[Placed], list[Placed]]:
    """The pieces outside of the stretch between two distances along their line, and those inside of it."""
    outside: list[Placed] = []
    inside: list[Placed] = []
    for start_m, piece in pieces:
        size_m = math.dist(*piece)
        ends = [0.0, *(one - start_m for one in (from_m, to_m) if 0 < one - start_m < size_m), size_m]
        for low, high in pairwise(ends):
            part = (point_along(piece, low / size_m), point_along(piece, high / size_m)) if size_m else piece
            within = from_m <= start_m + (low + high) / 2 <= to_m
            (inside if within else outside).append(Placed(start_m + low, part))
    return outside, inside


class Short(NamedTuple):
    """Where a line comes too near: how far off, whether above, at what distance along it, and by how much too near."""

    m: float
    above: bool
    along_m: float
    lacks_m: float


def too_near(
    line: Sequence[Placed], other: Sequence[Placed], less_m: float, beside_m: float, above_m: float
) -> Short | None:
    """Where a line lacks most of the distance it must keep from another, or None where it keeps it.

    It must keep beside_m every way, and above_m where it passes over, nearer than beside_m as seen from above. less_m:
    what goes off each distance, the half diameters of both.
    """
    worst: Short | None = None
    reach_m = math.hypot(beside_m, above_m) + less_m
    for start_m, piece in line:
        for _, there in other:
            if boxes_apart(piece, there, reach_m):
                continue
            over = passing_over(piece, there, beside_m + less_m)
            gap = nearest(piece, there) if over is None else over
            lacks_m = (beside_m if over is None else above_m) - (gap.m - less_m)
            if lacks_m > _ROUNDING_M and (worst is None or lacks_m > worst.lacks_m):
                worst = Short(gap.m - less_m, over is not None, start_m + math.dist(piece[0], gap.p), lacks_m)
    return worst


def box_of(line: Sequence[Point]) -> Piece:
    """The box about a line, as the piece from its least corner to its greatest."""
    east, north, up = zip(*line, strict=True)
    return (min(east), min(north), min(up)), (max(east), max(north), max(up))


def boxes_apart(one: Piece, other: Piece, reach_m: float) -> bool:
    """Whether the boxes about two pieces are further apart than reach_m east, north or up."""
    (a, b), (c, d) = one, other
    for axis in range(3):
        low, high = (a[axis], b[axis]) if a[axis] < b[axis] else (b[axis], a[axis])
        there, yonder = (c[axis], d[axis]) if c[axis] < d[axis] else (d[axis], c[axis])
        if there - high > reach_m or low - yonder > reach_m:
            return True
    return False


def nearest(one: Piece, other: Piece) -> Gap:
    """The nearest points of two straight pieces; a piece of no length is a point (elementary vector algebra)."""
    (a, b), (c, d) = one, other
    u, v, w = _minus(b, a), _minus(d, c), _minus(a, c)
    uu, uv, vv = _dot(u, u), _dot(u, v), _dot(v, v)
    uw, vw = _dot(u, w), _dot(v, w)
    across = uu * vv - uv * uv
    s = _within((uv * vw - vv * uw) / across) if across > _SMALL * uu * vv else 0.0
    t = _within((uv * s + vw) / vv) if vv > _SMALL else 0.0
    s = _within((uv * t - uw) / uu) if uu > _SMALL else 0.0
    p, q = point_along(one, s), point_along(other, t)
    return Gap(math.dist(p, q), p, q)


def passing_over(one: Piece, other: Piece, reach_m: float) -> Gap | None:
    """The least distance where the first piece passes over the second, within reach of it as seen from above.

    None where it does not come within reach, or is not higher all along there.
    """
    mine, theirs = _span(one, other, reach_m), _span(other, one, reach_m)
    if mine is None or theirs is None or _least_height(one, other, mine, theirs, reach_m + _ROUNDING_M) <= 0:
        return None
    return nearest(_cut(one, mine), _cut(other, theirs))


def _least_height(one: Piece, other: Piece, mine: Span, theirs: Span, reach_m: float) -> float:
    """How high the first piece is over the second at least, from both ends of each; exact unless both slope."""
    least = math.inf
    for s in mine:
        p = point_along(one, s)
        for t in _span(other, (p, p), reach_m) or ():
            least = min(least, p[2] - point_along(other, t)[2])
    for t in theirs:
        q = point_along(other, t)
        for s in _span(one, (q, q), reach_m) or ():
            least = min(least, point_along(one, s)[2] - q[2])
    return least


def _cut(piece: Piece, span: Span) -> Piece:
    return point_along(piece, span[0]), point_along(piece, span[1])


def point_along(piece: Piece, part: float) -> Point:
    """The point at a part, 0 to 1, of the piece."""
    a, b = piece
    return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]), a[2] + part * (b[2] - a[2]))


def _span(one: Piece, other: Piece, reach_m: float) -> Span | None:
    """Where along the first piece it lies within reach of the second, seen from above, or None.

    What lies within reach of a straight piece is convex, so it cuts the line in one stretch: that in the discs about
    both ends and the strip between.
    """
    (a, b), (c, d) = one, other
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    spans = [_in_disc(ux, uy, a[0] - c[0], a[1] - c[1], reach_m)]
    vv = vx * vx + vy * vy
    if vv > _SMALL:
        wx, wy = a[0] - c[0], a[1] - c[1]
        side = reach_m * math.sqrt(vv)
        beside = _between(vx * wy - vy * wx, vx * uy - vy * ux, -side, side)
        along = _between(vx * wx + vy * wy, vx * ux + vy * uy, 0.0, vv)
        spans.append(_in_disc(ux, uy, a[0] - d[0], a[1] - d[1], reach_m))
        spans.append(_common(_common(beside, along), (0.0, 1.0)))
    inside = [span for span in spans if span is not None]
    return (min(span[0] for span in inside), max(span[1] for span in inside)) if inside else None


def _in_disc(ux: float, uy: float, wx: float, wy: float, radius: float) -> Span | None:
    """Where from 0 to 1 the length of w + s u is at most the radius."""
    uu, uw, rest = ux * ux + uy * uy, ux * wx + uy * wy, wx * wx + wy * wy - radius * radius
    if uu <= _SMALL:
        return (0.0, 1.0) if rest <= 0 else None
    root = uw * uw - uu * rest
    if root < 0:
        return None
    half = math.sqrt(root)
    return _common(((-uw - half) / uu, (-uw + half) / uu), (0.0, 1.0))


def _between(start: float, step: float, low: float, high: float) -> Span | None:
    """Where start + s step lies from low to high."""
    if abs(step) <= _SMALL:
        return (-math.inf, math.inf) if low <= start <= high else None
    ends = ((low - start) / step, (high - start) / step)
    return (min(ends), max(ends))


def _common(one: Span | None, other: Span | None) -> Span | None:
    if one is None or other is None:
        return None
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return (low, high) if low <= high else None


def _minus(a: Point, b: Point) -> Point:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _within(part: float) -> float:
    return min(1.0, max(0.0, part))
