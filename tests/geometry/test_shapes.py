"""Shapes of paths against figures worked by hand: right triangles, slopes, turns, level and upright."""

from __future__ import annotations

import math

import pytest

from plancheck.geometry import at_distance
from tests.geometry.walks import FT, IN, geometry, shape


def test_a_right_triangle_is_walked_along_its_two_sides() -> None:
    found = shape("east 3 ft", "north 4 ft")
    assert found.length_m == pytest.approx(7 * FT)
    assert math.hypot(*found.vector) == pytest.approx(5 * FT)
    assert [math.degrees(turn.angle) for turn in found.turns] == pytest.approx([90])


def test_three_four_five_as_one_sloping_leg() -> None:
    found = shape("east 4 ft and up 3 ft")
    assert found.length_m == pytest.approx(5 * FT)
    assert found.turns == ()
    assert found.upright_m == 0


def test_four_up_and_three_along_is_upright() -> None:
    found = shape("north 3 ft and up 4 ft")
    assert found.upright_m == pytest.approx(5 * FT)
    assert found.stretches[0].upright


@pytest.mark.parametrize(
    "legs", [("east 3 ft and up 3 ft",), ("east 3 ft and north 4 ft and up 5 ft",), ("west 1 ft and down 1 ft",)]
)
def test_exactly_45_degrees_is_level(legs: tuple[str, ...]) -> None:
    assert shape(*legs).upright_m == 0


@pytest.mark.parametrize(("up", "upright"), [("35-7/8 in", False), ("36 in", False), ("36-1/8 in", True)])
def test_steeper_than_45_degrees_is_upright(up: str, upright: bool) -> None:
    assert shape(f"east 3 ft and up {up}").stretches[0].upright is upright


def test_down_is_as_upright_as_up() -> None:
    found = shape("down 4 ft", "east 2 ft")
    assert found.upright_m == pytest.approx(4 * FT)
    assert [stretch.upright for stretch in found.stretches] == [True, False]


def test_turns_are_counted_from_one_with_the_straight_on_both_sides() -> None:
    found = shape("up 2 ft", "north 8 ft", "up 32 in", "east 1 ft")
    assert [turn.number for turn in found.turns] == [1, 2, 3]
    assert [turn.at_m for turn in found.turns] == pytest.approx([2 * FT, 10 * FT, 152 * IN])
    assert [turn.before_m for turn in found.turns] == pytest.approx([2 * FT, 8 * FT, 32 * IN])
    assert [turn.after_m for turn in found.turns] == pytest.approx([8 * FT, 32 * IN, 1 * FT])
    assert [math.degrees(turn.angle) for turn in found.turns] == pytest.approx([90, 90, 90])


def test_legs_in_one_line_are_one_stretch() -> None:
    found = shape("up 2 ft", "up 3 ft", "east 1 ft", "east 6 in", "east 6 in")
    assert [stretch.length_m for stretch in found.stretches] == pytest.approx([5 * FT, 2 * FT])
    assert [stretch.start_m for stretch in found.stretches] == pytest.approx([0, 5 * FT])
    assert len(found.turns) == 1
    assert len(found.corners) == 6  # what was written stays to be drawn


def test_sloping_legs_in_one_line_are_one_stretch() -> None:
    found = shape("east 3 ft and up 1 ft", "east 6 ft and up 2 ft")
    assert len(found.stretches) == 1
    assert found.length_m == pytest.approx(3 * math.sqrt(10) * FT)


def test_turning_back_is_a_turn_of_180_degrees() -> None:
    found = shape("up 3 ft", "down 1 ft")
    assert [math.degrees(turn.angle) for turn in found.turns] == pytest.approx([180])
    assert found.length_m == pytest.approx(4 * FT)
    assert found.vector == pytest.approx((0, 0, 2 * FT))


@pytest.mark.parametrize(
    ("legs", "degrees"),
    [
        (("east 1 ft", "east 1 ft and north 1 ft"), 45),
        (("east 1 ft", "west 1 ft and north 1 ft"), 135),
        (("east 1 ft and north 1 ft", "east 1 ft and up 1 ft"), 60),
        (("up 1 ft", "east 1 ft and north 1 ft"), 90),
    ],
)
def test_angles_of_turns(legs: tuple[str, ...], degrees: float) -> None:
    assert [math.degrees(turn.angle) for turn in shape(*legs).turns] == pytest.approx([degrees])


def test_points_along_a_path() -> None:
    found = shape("up 2 ft", "east 4 ft", "north 1 ft")
    assert at_distance(found, 0) == pytest.approx((0, 0, 0))
    assert at_distance(found, 18 * IN) == pytest.approx((0, 0, 18 * IN))
    assert at_distance(found, 3 * FT) == pytest.approx((1 * FT, 0, 2 * FT))
    assert at_distance(found, 6 * FT + 6 * IN) == pytest.approx((4 * FT, 6 * IN, 2 * FT))
    assert at_distance(found, 99 * FT) == pytest.approx(found.vector)
    assert at_distance(found, -1) == pytest.approx((0, 0, 0))


def test_an_estimated_leg_makes_the_shape_an_estimate() -> None:
    assert shape("up 2 ft", "east about 4 ft").about
    assert not shape("up 2 ft", "east 4 ft").about


def test_metric_legs() -> None:
    found = shape("up 2.4 m", "east 1500 mm", "north 30 cm")
    assert found.length_m == pytest.approx(4.2)


def test_mirrored_and_like_copy_the_shape() -> None:
    found = geometry(
        "t1: {is: tee, at: [0, 0, 0]}\nt2: {is: tee, at: [10 ft, 0, 0]}\na: {is: toilet}\nb: {is: toilet}",
        """
        one: {from: t1/out, to: a, tube: t, path: [east 3 ft, up 1 ft, north 2 ft]}
        two: {from: t2/out, to: b, like: one, mirrored: east-west}
        """,
    )
    assert found.shapes["one"].vector == pytest.approx((3 * FT, 2 * FT, 1 * FT))
    assert found.shapes["two"].vector == pytest.approx((-3 * FT, 2 * FT, 1 * FT))
    assert found.shapes["two"].length_m == pytest.approx(6 * FT)
