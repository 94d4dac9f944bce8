"""Gaps between the points where a run is held. Metres along the run, counted from its start.

A gap is measured along the pipe from one point to the next; over a corner its level and its upright part are told apart.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from plancheck.courses import SAME_M, SLIGHT, Course, fittings_along, held_at, holes, in_order
from plancheck.geometry.shape import Stretch
from plancheck.model import Ref, Run
from plancheck.record import NamedTuple

_ROUNDING_M = 1e-12
_FOOT = 0.3048
_MOST_STOREY_M = 14 * _FOOT  # between floors further apart the plan leaves one out
_TOP_STOREY_M = 10 * _FOOT  # as far above its topmost floor a plan leaves none out


class Gap(NamedTuple):
    """What lies free between two points.

    m counts the pipe of the way that was asked for, start_m and end_m are the points. least_m: so much of it is certain,
    where it is not known in which order level and upright parts follow each other.
    """

    m: float
    start_m: float
    end_m: float
    least_m: float


def held_gap(run: Run, course: Course, upright: bool, every_m: float = math.inf) -> tuple[Gap, list[float]]:
    """The worst gap of one way as the run is held, and the points it is measured between.

    every_m: the largest gap that the plan states; where it is less than what the known points leave free, supports are
    taken to be that far apart.
    """
    points = in_order(course, [*course.ends, *held_at(run, course)])
    gap = worst_gap(course, points, upright)
    if gap.m > every_m + SAME_M:
        if course.ordered:
            points = in_order(course, points + laid(course, points, upright, every_m))
            return worst_gap(course, points, upright), points
        gap = gap._replace(m=every_m, least_m=min(gap.least_m, every_m))
    return gap, points


def guided_gap(run: Run, course: Course, guides_m: Iterable[float], every_m: float = math.inf) -> Gap:
    """The worst upright gap between supports, guides at measured distances and plates that the run goes through."""
    held = [*course.ends, *held_at(run, course), *holes(run, course, True), *guides_m]
    gap = worst_gap(course, in_order(course, held), True)
    return gap._replace(m=min(gap.m, every_m), least_m=min(gap.least_m, every_m))


def first_support(run: Run, course: Course) -> tuple[float, float]:
    """The end, corner or fitting that is furthest from the support nearest to it: how far, and where it is.

    What lies in a stretch drawn through closed framing is left out. As far as the run is long where nothing holds it.
    """
    points = [0.0, course.length_m, *fittings_along(run, course)]
    if course.shape is not None:
        points += [turn.at_m for turn in course.shape.turns if turn.angle > SLIGHT]
    low, high = course.hidden or (math.inf, -math.inf)
    supports = held_at(run, course)
    seen = [point for point in points if not low <= point <= high] or [0.0]
    return max((min((abs(one - point) for one in supports), default=course.length_m), point) for point in seen)


def share(course: Course, start_m: float, end_m: float, upright: bool) -> float:
    """How much of the course between two points lies level, or stands upright."""
    found = 0.0
    for one in course.stretches:
        if one.upright == upright:
            found += max(0.0, min(end_m, one.start_m + one.length_m) - max(start_m, one.start_m))
    return found


def worst_gap(course: Course, points: Sequence[float], upright: bool) -> Gap:
    """The most pipe of one way that lies free between two points next to each other; the first of equals.

    Where the order of level and upright parts is not known, as much of that way as there is may lie in any gap.
    """
    if not course.ordered:
        return _widest(course, points, upright)
    worst = Gap(0.0, 0.0, 0.0, 0.0)
    for start_m, end_m in pairwise(points):
        m = share(course, start_m, end_m, upright)
        if m > worst.m + SAME_M:
            worst = Gap(m, start_m, end_m, m)
    return worst


def _widest(course: Course, points: Sequence[float], upright: bool) -> Gap:
    mine_m, other_m = (course.upright_m, course.level_m) if upright else (course.level_m, course.upright_m)
    low, high = course.hidden or (0.0, 0.0)
    gaps = [(end - start - max(0.0, min(end, high) - max(start, low)), start, end) for start, end in pairwise(points)]
    m, start_m, end_m = max(gaps, key=lambda gap: gap[0])
    least_m = max(0.0, min(mine_m, m - other_m)) if course.split else 0.0
    return Gap(min(mine_m, m), start_m, end_m, least_m)


def spread(course: Course, start_m: float, end_m: float, upright: bool, amounts: Iterable[float]) -> list[float]:
    """The points after which so much of one way lies behind, counted from start_m; amounts in order."""
    found: list[float] = []
    behind = 0.0
    left = list(amounts)
    for one in course.stretches:
        low, high = max(start_m, one.start_m), min(end_m, one.start_m + one.length_m)
        if one.upright != upright or high <= low:
            continue
        while left and left[0] <= behind + high - low + SAME_M:
            found.append(min(high, low + left.pop(0) - behind))
        behind += high - low
    return found


def laid(course: Course, points: Sequence[float], upright: bool, every_m: float) -> list[float]:
    """Where supports are if they are set as far apart as a largest gap allows, counted from each point that is held."""
    found: list[float] = []
    for start_m, end_m in pairwise(points):
        number = _parts(share(course, start_m, end_m, upright), every_m)
        found += spread(course, start_m, end_m, upright, (every_m * step for step in range(1, number)))
    return found


def wanting(course: Course, points: Sequence[float], upright: bool, limit_m: float, grace_m: float) -> list[float]:
    """Where supports are to be added so that no gap has more of one way than its limit: as few as will do, evenly.

    Gaps that are over it by no more than the grace stay as they are.
    """
    found: list[float] = []
    for start_m, end_m in pairwise(points):
        m = share(course, start_m, end_m, upright)
        if m > limit_m + grace_m + _ROUNDING_M:
            number = _parts(m, limit_m)
            found += spread(course, start_m, end_m, upright, (m * step / number for step in range(1, number)))
    return found


def as_marked(
    course: Course, points: Sequence[float], more: Sequence[float], upright: bool, most_m: float, step_m: float
) -> list[float]:
    """The places to add at whole steps of a tape, where every gap then keeps its most; else just where they are."""
    rounded = [round(one / step_m) * step_m for one in more]
    gaps = pairwise(sorted((*points, *rounded)))
    kept = all(share(course, start_m, end_m, upright) <= most_m for start_m, end_m in gaps)
    return rounded if kept else list(more)


def _parts(length_m: float, most_m: float) -> int:
    """Into how many parts a length is cut so that none is over most_m."""
    return max(1, math.ceil(length_m / most_m - SAME_M)) if most_m > 0 else 1


def longest_upright(course: Course) -> Stretch | None:
    """The longest straight that stands upright, or None."""
    return max((one for one in course.stretches if one.upright), key=lambda one: one.length_m, default=None)


def storey_of(run: Run, course: Course, heights: Mapping[Ref, float], floors: Iterable[float]) -> float | None:
    """The tallest storey that the longest upright straight of a run stands through; None where heights do not tell."""
    start_m = heights.get(run.from_) if run.from_ is not None else None
    end_m = heights.get(run.to) if run.to is not None else None
    up = longest_upright(course)
    if course.shape is not None and up is not None:
        if start_m is None and end_m is not None:
            start_m = end_m - course.shape.vector[2]
        if start_m is None:
            return None
        start_m, end_m = start_m + up.a[2], start_m + up.b[2]
    if start_m is None or end_m is None:
        return None
    return storey_m(min(start_m, end_m), max(start_m, end_m), floors)


def storey_m(low_m: float, high_m: float, floors: Iterable[float]) -> float | None:
    """The tallest storey that pipe between two heights stands through, or None where the floors do not tell.

    floors: heights of the floors of the plan. Pipe that crosses no floor stands in one storey, which it may fill.
    """
    known = sorted(floors)
    if not known or high_m > known[-1] + _TOP_STOREY_M:
        return None
    cuts = [low_m, *(floor for floor in known if low_m < floor < high_m), high_m]
    tallest = max(upper - lower for lower, upper in pairwise(cuts))
    return tallest if tallest <= _MOST_STOREY_M else None
