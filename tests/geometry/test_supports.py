"""Gaps between supports: what is added really closes them; level and upright, fished stretches and storeys told apart."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.courses import Course, course_of, framing_without_places, held_at, in_order, nominal_inches
from plancheck.engine import Judged
from plancheck.geometry import at_distance, shape_of_path
from plancheck.measures import read_length, read_size
from plancheck.model import Bend, Bends, Leg, Pass, Run, Supports, Tube
from plancheck.supports import first_support, held_gap, laid, share, storey_m, wanting, worst_gap
from tests.casework import judge, plan_of

IN, FT = 0.0254, 0.3048
GRACE_M = IN / 16
Inches = tuple[int, int, int]

_step = st.integers(-60, 60)
_legs = st.lists(st.tuples(_step, _step, _step).filter(any), min_size=1, max_size=6)
_marks = st.lists(st.floats(0, 1), max_size=6)


def course(legs: list[Inches], **said: Any) -> tuple[Run, Course]:
    path = tuple(Leg(east * IN, north * IN, up * IN) for east, north, up in legs)
    run = Run("r", path=path, **said)
    found = course_of(run, shape_of_path(path, {}))
    assert found is not None
    return run, found


def points_of(one: Course, marks: list[float]) -> list[float]:
    return in_order(one, [0.0, *(mark * one.length_m for mark in marks), one.length_m])


@given(_legs, _marks, st.booleans(), st.floats(2, 60))
def test_what_is_added_closes_every_gap_with_as_few_as_will_do(
    legs: list[Inches], marks: list[float], upright: bool, inches: float
) -> None:
    _, one = course(legs)
    points, limit_m = points_of(one, marks), inches * IN
    more = wanting(one, points, upright, limit_m, GRACE_M)
    closed = in_order(one, points + more)
    assert worst_gap(one, closed, upright).m <= limit_m + GRACE_M
    for start, end in pairwise(points):
        m = share(one, start, end, upright)
        added = sum(start < point < end for point in more)
        assert (added + 1) * limit_m >= m - GRACE_M
        assert added == 0 or added * limit_m < m + 1e-5


@given(_legs, st.floats(0, 1), st.floats(0, 1))
def test_shares_of_level_and_upright_by_steps_along_the_path(legs: list[Inches], a: float, b: float) -> None:
    _, one = course(legs)
    assert one.shape is not None
    low, high = sorted((a * one.length_m, b * one.length_m))
    steps = 400
    counted = [0.0, 0.0]
    for step in range(steps):
        p, q = (at_distance(one.shape, low + (high - low) * (step + part) / steps) for part in (0.25, 0.75))
        counted[abs(q[2] - p[2]) > math.hypot(q[0] - p[0], q[1] - p[1]) * 1.0000001] += (high - low) / steps
    slack = (high - low) / steps * (len(legs) + 1) + 1e-6
    assert share(one, low, high, False) == pytest.approx(counted[0], abs=slack)
    assert share(one, low, high, True) == pytest.approx(counted[1], abs=slack)


@given(_legs, _marks, st.booleans())
def test_walked_the_other_way_the_worst_gap_is_as_long(legs: list[Inches], marks: list[float], upright: bool) -> None:
    _, one = course(legs)
    _, back = course([(-a, -b, -c) for a, b, c in reversed(legs)])
    there = worst_gap(one, points_of(one, marks), upright)
    again = worst_gap(back, points_of(back, [1 - mark for mark in marks]), upright)
    assert there.m == pytest.approx(again.m, abs=1e-5)


@given(_legs, _marks, st.floats(0, 1), st.floats(0, 1), st.booleans())
def test_a_fished_stretch_leaves_two_runs(
    legs: list[Inches], marks: list[float], a: float, b: float, upright: bool
) -> None:
    """Judged outside of the stretch is as judging what comes before it and what comes after it, each by itself."""
    _, whole = course(legs)
    low, high = sorted((a * whole.length_m, b * whole.length_m))
    run, cut = course(
        legs,
        fished=(read_length(f"{low / IN:.6f} in"), read_length(f"{high / IN:.6f} in")),
        supports=Supports(at=tuple(read_length(f"{mark * whole.length_m / IN:.6f} in") for mark in marks)),
    )
    found, _ = held_gap(run, cut, upright)
    points = points_of(whole, marks)
    before = [point for point in points if point < low] + [low]
    after = [high] + [point for point in points if point > high]
    apart = [share(whole, start, end, upright) for start, end in (*pairwise(before), *pairwise(after))]
    assert found.m == pytest.approx(max(apart, default=0.0), abs=1e-5)


@given(_legs, _marks, st.booleans(), st.floats(4, 80))
def test_supports_laid_by_the_largest_gap_keep_it(
    legs: list[Inches], marks: list[float], upright: bool, inches: float
) -> None:
    _, one = course(legs)
    points = points_of(one, marks)
    free = worst_gap(one, points, upright).m
    set_out = in_order(one, points + laid(one, points, upright, inches * IN))
    assert worst_gap(one, set_out, upright).m == pytest.approx(min(free, inches * IN), abs=1e-5)


def answers(judged: list[Judged], what: str) -> Judged:
    return next(one for one in judged if one.subject.name == f"{what} of bath-link")


def said(leg: Inches) -> str:
    words = (("east", "west"), ("north", "south"), ("up", "down"))
    return " and ".join(f"{pair[n < 0]} {abs(n)} in" for n, pair in zip(leg, words, strict=True) if n)


@settings(max_examples=40, deadline=None)
@given(_legs, _marks)
def test_who_follows_the_mend_is_right(legs: list[Inches], marks: list[float]) -> None:
    """The places read off the remark, clips added there, and the plan judged again: both ways hold."""
    total = sum(math.hypot(*leg) for leg in legs)
    at = sorted({f"{max(1, round(mark * total)):d} in" for mark in (*marks, 0.5)})
    change = {"runs/bath-link/path": [said(leg) for leg in legs], "runs/bath-link/bends": {"radius": "5 in"}}
    for _ in range(2):  # first as it is, then as mended
        change["runs/bath-link/supports"] = {"kind": "plastic clip", "at": at, "guides": "mid-storey"}
        judged = judge(plan_of({"change": change}), "support_spacing")
        mends = [
            one.outcome.mend for one in judged if re.search("(level|upright) supports of bath-link", one.subject.name)
        ]
        wanted = [
            place
            for mend in mends
            if " at " in mend
            for place in mend.split(" at ")[1].split(" from its")[0].split(", ")
        ]
        at = [*at, *wanted]
        if any("Add" in mend and " at " not in mend for mend in mends):
            return  # more than the remark names
    assert wanted == []


def test_who_holds_it_as_often_as_asked_is_right() -> None:
    """Where only gaps are stated, supports set as far apart as they allow and those added keep the limit."""
    run, one = course([(0, 0, 24), (0, 120, 0), (0, 0, 32)], supports=Supports(every=read_length("4 ft")))
    found, points = held_gap(run, one, False, 4 * FT)
    assert found.m == pytest.approx(4 * FT)
    more = wanting(one, points, False, 32 * IN, GRACE_M)
    assert [round(point / IN) for point in points] == [0, 72, 120, 176]
    assert [round(point / IN) for point in more] == [48, 96]
    assert worst_gap(one, in_order(one, points + more), False).m <= 32 * IN


def test_a_gap_at_the_limit_and_a_sixteenth_is_left_alone() -> None:
    _, one = course([(100, 0, 0)])
    assert wanting(one, [0.0, 32 * IN, 64.0625 * IN, 96 * IN], False, 32 * IN, GRACE_M) == []
    assert len(wanting(one, [0.0, 32 * IN, 64.07 * IN, 96 * IN], False, 32 * IN, GRACE_M)) == 1
    assert wanting(one, [0.0, 0.813, 1.626], False, 32 * IN, GRACE_M) == []


def test_what_holds_a_run() -> None:
    legs: list[Inches] = [(40, 0, 0), (0, 40, 0), (0, 0, 40)]
    strapped = Bends(each=(Bend(support="strap one side"), Bend(support="none")))
    joists = (Pass("2x10 joist", at=(read_length("10 in"), read_length("100 in"))),)
    ends = Supports(every=read_length("30 in"), ends=read_length("5 in"))
    run, one = course(legs, bends=strapped, passes=joists, supports=ends)
    assert [round(point / IN) for point in held_at(run, one)] == [5, 10, 40, 115]  # the hole at 100 in is upright
    assert first_support(run, one) == (pytest.approx(35 * IN), pytest.approx(80 * IN))
    assert framing_without_places(run) is None
    assert framing_without_places(run._replace(passes=(Pass("top plate"), Pass("2x4 stud", count_=3)))) == 1


# floors, bottom and top of the pipe, tallest storey, all in feet
STOREYS = [
    ([0, 9], 0.5, 8, 7.5),  # within one storey: it may fill it
    ([0, 9, 18], 4, 17, 8),  # 4 to 9, then 9 to 17
    ([0, 9, 18], 0, 18, 9),
    ([0, 12], 0, 12, 12),
    ([0, 9], 0, 20, None),  # over 10 ft above the topmost floor one is left out
    ([0, 20], 0, 20, None),  # so is one between floors 20 ft apart
    ([], 0, 8, None),
]


@pytest.mark.parametrize(("floors", "low", "high", "tallest"), STOREYS)
def test_storeys(floors: list[float], low: float, high: float, tallest: float | None) -> None:
    found = storey_m(low * FT, high * FT, [floor * FT for floor in floors])
    assert found == (None if tallest is None else pytest.approx(tallest * FT))


# name, nominal inches by which the tables of supports go (DN by ISO 6708; metric tube by its outside diameter)
NOMINAL = [("1/2", 0.5), ("1-1/4", 1.25), ("16 mm", 0.505), ("32 mm", 1.135), ("40 mm", 1.45), ("DN20", 0.787)]


@pytest.mark.parametrize(("name", "inches"), NOMINAL)
def test_nominal_sizes(name: str, inches: float) -> None:
    assert nominal_inches(Tube("t", "PEX-A", size=read_size(name))) == pytest.approx(inches, abs=0.001)


def test_nominal_size_by_the_outside_alone() -> None:
    assert nominal_inches(Tube("t", "copper", outside=read_length("7/8 in"))) == pytest.approx(0.75)
    assert nominal_inches(Tube("t", "copper")) is None
