"""How far straight pieces are apart, against figures worked by hand and against points tried one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from plancheck.geometry.apart import (
    Piece,
    Placed,
    box_of,
    boxes_apart,
    nearest,
    parted,
    passing_over,
    pieces_of,
    too_near,
)

_M = st.integers(-20, 20).map(lambda tenths: tenths / 10)
_POINT = st.tuples(_M, _M, _M)


@st.composite
def _pieces(draw: st.DrawFn) -> Piece:
    """A level, an upright or a sloping piece, or a point."""
    a, b = draw(_POINT), draw(_POINT)
    kind = draw(st.sampled_from(("level", "upright", "slope", "point")))
    ends = {"level": (b[0], b[1], a[2]), "upright": (a[0], a[1], b[2]), "slope": b, "point": a}
    return a, ends[kind]


def _tried(one: Piece, other: Piece, reach: float | None = None) -> tuple[float, float]:
    """The least distance and the least height of points tried one by one, those within reach seen from above."""
    steps = np.linspace(0, 1, 201)[:, None]
    mine = np.array(one[0]) + steps * (np.array(one[1]) - np.array(one[0]))
    theirs = np.array(other[0]) + steps * (np.array(other[1]) - np.array(other[0]))
    off = mine[:, None, :] - theirs[None, :, :]
    far = np.sqrt((off**2).sum(axis=2))
    within = np.hypot(off[..., 0], off[..., 1]) <= reach if reach is not None else np.full(far.shape, True)
    if not within.any():
        return math.inf, math.inf
    return float(far[within].min()), float(off[..., 2][within].min())


# the pieces, the distance: worked by hand
WORKED: list[tuple[Piece, Piece, float]] = [
    (((0, 0, 0), (4, 0, 0)), ((2, -1, 3), (2, 1, 3)), 3),  # one crosses over the other
    (((0, 0, 0), (4, 0, 0)), ((7, 4, 0), (7, 9, 0)), 5),  # end to end: 3, 4, 5
    (((0, 0, 0), (4, 0, 0)), ((1, 2, 0), (3, 2, 0)), 2),  # side by side
    (((0, 0, 0), (4, 0, 0)), ((2, 0, 1), (2, 0, 1)), 1),  # a point
    (((0, 0, 0), (0, 0, 0)), ((1, 2, 2), (1, 2, 2)), 3),  # two points: 1, 2, 2
    (((0, 0, 0), (4, 0, 0)), ((2, -1, 0), (2, 1, 0)), 0),  # they meet
]


@pytest.mark.parametrize(("one", "other", "m"), WORKED)
def test_worked_distances(one: Piece, other: Piece, m: float) -> None:
    assert nearest(one, other).m == pytest.approx(m, abs=1e-9)
    assert nearest(other, one).m == pytest.approx(m, abs=1e-9)


@given(_pieces(), _pieces())
def test_no_two_points_tried_are_nearer(one: Piece, other: Piece) -> None:
    gap = nearest(one, other)
    tried, _ = _tried(one, other)
    assert gap.m <= tried + 1e-9
    steps = (math.dist(*one) + math.dist(*other)) / 400  # half a step on each is all that trying can miss
    assert gap.m >= tried - steps - 1e-9
    assert math.dist(gap.p, gap.q) == pytest.approx(gap.m, abs=1e-12)


@given(_pieces(), _pieces(), st.sampled_from((0.15, 0.5, 1.1)))
def test_passing_over_is_what_points_tried_find(one: Piece, other: Piece, reach: float) -> None:
    assume(not (_slopes(one) and _slopes(other)))
    steps = (math.dist(*one) + math.dist(*other)) / 400
    far, height = _tried(one, other, reach)
    over = passing_over(one, other, reach)
    if math.isfinite(height) and height <= 0:
        assert over is None
    elif height > 4 * steps and math.isfinite(height):
        assert over is not None
        assert over.m <= far + 1e-9
        assert over.p[2] > over.q[2]
    if over is not None and math.isfinite(far):
        assert over.m >= _tried(one, other)[0] - steps - 1e-9


def _slopes(piece: Piece) -> bool:
    (a, b) = piece
    return a[2] != b[2] and a[:2] != b[:2]


@given(_pieces(), _pieces(), st.sampled_from((0.2, 0.6)))
def test_too_near_is_what_points_tried_find(one: Piece, other: Piece, beside: float) -> None:
    """Nearer than beside every way, or less than twice that where it passes over: points tried one by one agree."""
    steps = (math.dist(*one) + math.dist(*other)) / 400
    short = too_near([Placed(0.0, one)], [Placed(0.0, other)], 0.0, beside, 2 * beside)
    far, _ = _tried(one, other)
    if far < beside - 1e-6:
        assert short is not None
    elif far > math.hypot(1, 2) * beside + steps:
        assert short is None
    if short is not None and not short.above:
        assert short.m == pytest.approx(beside - short.lacks_m)
        assert far - steps <= short.m + 1e-9 < beside + 1e-9


def test_a_vent_under_a_tube() -> None:
    """A tube 10 in over a vent needs 12, one 7 in beside it needs 6: only the first is too near, by 2 in at 3 ft."""
    vent = [Placed(0.0, ((36.0, -20.0, 0.0), (36.0, 20.0, 0.0)))]
    over = too_near(pieces_of(((0, 0, 10), (72, 0, 10))), vent, 0.0, 6, 12)
    assert over is not None
    assert (over.m, over.above, over.along_m, over.lacks_m) == pytest.approx((10, True, 36, 2))
    assert too_near(pieces_of(((43, -20, 0), (43, 20, 0))), vent, 0.0, 6, 12) is None


def test_half_diameters_go_off() -> None:
    """8 in from middle to middle, 2 in and 1 in of half diameters: 5 in are left of the 6."""
    vent = [Placed(0.0, ((0.0, 8.0, -9.0), (0.0, 8.0, 9.0)))]
    short = too_near(pieces_of(((-9, 0, 0), (9, 0, 0))), vent, 3.0, 6, 12)
    assert short is not None
    assert (short.m, short.above, short.lacks_m) == pytest.approx((5, False, 1))


def test_pieces_of_a_line() -> None:
    line = ((0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (3.0, 4.0, 0.0))
    assert [one.start_m for one in pieces_of(line)] == [0, 3]
    assert pieces_of(line[:1]) == [Placed(0.0, (line[0], line[0]))]
    assert box_of(line) == ((0, 0, 0), (3, 4, 0))


def test_a_stretch_is_parted_off() -> None:
    """7 m in two legs of 3 and 4; the stretch from 2 to 5 m takes 1 m of the first and 2 m of the second."""
    outside, inside = parted(pieces_of(((0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (3.0, 4.0, 0.0))), 2, 5)
    assert [(one.start_m, one.piece) for one in outside] == [
        (0, ((0, 0, 0), (2, 0, 0))),
        (5, ((3, 2, 0), (3, 4, 0))),
    ]
    assert [(one.start_m, one.piece) for one in inside] == [
        (2, ((2, 0, 0), (3, 0, 0))),
        (3, ((3, 0, 0), (3, 2, 0))),
    ]


@given(_pieces(), _pieces())
def test_boxes_apart_are_no_nearer_than_that(one: Piece, other: Piece) -> None:
    if boxes_apart(box_of(one), box_of(other), 0.7):
        assert nearest(one, other).m > 0.7
