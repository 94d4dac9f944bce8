"""Supports to add are told at whole steps of a tape wherever every gap still keeps its most."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plancheck.supports import as_marked, wanting, worst_gap
from tests.geometry.test_supports import GRACE_M, IN, Inches, course, points_of

_step = st.integers(-60, 60)
_legs = st.lists(st.tuples(_step, _step, _step).filter(any), min_size=1, max_size=6)
_marks = st.lists(st.floats(0, 1), max_size=6)


@given(_legs, _marks, st.booleans(), st.floats(2, 60))
def test_marks_are_whole_inches_or_left_and_close_every_gap(
    legs: list[Inches], marks: list[float], upright: bool, inches: float
) -> None:
    _, one = course(legs)
    points, most_m = points_of(one, marks), inches * IN + GRACE_M
    more = wanting(one, points, upright, inches * IN, GRACE_M)
    marked = as_marked(one, points, more, upright, most_m, IN)
    assert len(marked) == len(more)
    assert all(abs(a - b) <= IN / 2 + 1e-9 for a, b in zip(marked, more, strict=True))
    assert worst_gap(one, sorted((*points, *marked)), upright).m <= most_m + 1e-9
    whole = all(abs(mark / IN - round(mark / IN)) < 1e-6 for mark in marked)
    assert whole or marked == more


def test_a_gap_of_nine_feet_is_marked_on_the_inch() -> None:
    """11 ft 4 in held by nothing at 32 in: four supports 27.2 in apart, told to the inch."""
    _, one = course([(136, 0, 0)])
    more = wanting(one, [0.0, one.length_m], False, 32 * IN, GRACE_M)
    marked = as_marked(one, [0.0, one.length_m], more, False, 32 * IN + GRACE_M, IN)
    assert [round(mark / IN, 6) for mark in marked] == [27, 54, 82, 109]
    assert pytest.approx([27.2, 54.4, 81.6, 108.8]) == [mark / IN for mark in more]
