"""The straight that bends take of their legs, against circles drawn between lines; which corner a fitting or a leg is."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plancheck.bends import BACK, Bent, bent, corners_of, lacking, leg_of, near_expansion_m, tangent_m
from plancheck.geometry import shape_of_path
from plancheck.measures import read_length
from plancheck.model import Along, Bend, Bends, Joints, Leg, PathPoint, Run, Tube

IN = 0.0254
TUBE = Tube("t", "PEX-B")
Inches = tuple[float, float, float]


def run_of(legs: list[Inches], first: PathPoint | None = None, **said: Any) -> Bent:
    walked = tuple(Leg(east * IN, north * IN, up * IN) for east, north, up in legs)
    run = Run("r", path=walked if first is None else (first, *walked), **said)
    return bent(run, TUBE, 0.625 * IN, shape_of_path(run.path or (), {}))


def alike(radius_in: float) -> Bends:
    return Bends(all=Bend(radius=read_length(f"{radius_in:.6f} in")))


@given(st.floats(1, 40), st.floats(1, 174))
def test_the_circle_touches_both_legs(radius: float, degrees: float) -> None:
    """A circle at the tangent length touches both lines: its middle is a radius off each, and the arc turns by the angle."""
    angle = math.radians(degrees)
    taken = tangent_m(radius, angle)
    middle = (-taken, radius)  # above the first leg, which comes from the west and ends at 0, 0
    way = (math.cos(angle), math.sin(angle))
    along = middle[0] * way[0] + middle[1] * way[1]
    off = abs(middle[0] * way[1] - middle[1] * way[0])
    assert along == pytest.approx(taken, rel=1e-6, abs=1e-9)
    assert off == pytest.approx(radius, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(("degrees", "part"), [(90, 1.0), (60, 0.57735), (45, 0.41421), (30, 0.26795), (120, 1.73205)])
def test_tangents_of_common_turns(degrees: float, part: float) -> None:
    """Tangents of half angles as any trigonometric table prints them."""
    assert tangent_m(1.0, math.radians(degrees)) == pytest.approx(part, abs=1e-5)


def test_straight_back_stays_a_number() -> None:
    assert math.isfinite(tangent_m(1.0, math.pi))
    assert tangent_m(1.0, math.pi) == tangent_m(1.0, BACK)


_legs = st.lists(st.tuples(st.integers(1, 40), st.booleans(), st.booleans()), min_size=2, max_size=6)


@given(_legs, st.floats(1, 20))
def test_right_angles_share_their_legs(steps: list[tuple[int, bool, bool]], radius: float) -> None:
    """In a zigzag of right angles a leg between two bends must be two radii long, one at the end of the run one."""
    legs: list[Inches] = []
    for number, (size, one, _) in enumerate(steps):
        signed = size if one else -size
        legs.append((signed, 0, 0) if number % 2 else (0, signed, 0))
    found = run_of(legs, bends=alike(radius))
    last = len(legs) - 1
    for corner in corners_of(found):
        number = corner.number
        needs = [(2 if 0 < leg < last else 1) * radius - steps[leg][0] for leg in (number - 1, number)]
        lack = lacking(corner, 0.0)
        if max(needs) > 1e-6:
            assert lack is not None
            assert (lack.mine_m + lack.other_m - lack.leg_m) / IN == pytest.approx(max(needs), abs=1e-5)
        elif max(needs) < -1e-6:
            assert lack is None


@given(_legs, st.floats(1, 20))
def test_walked_the_other_way_the_same_bends_lack_room(steps: list[tuple[int, bool, bool]], radius: float) -> None:
    legs: list[Inches] = [
        ((size if one else -size), (size if other else -size) * (number % 2), 0)
        for number, (size, one, other) in enumerate(steps)
    ]
    there = [lacking(corner, 0.0) for corner in corners_of(run_of(legs, bends=alike(radius)))]
    back = run_of([(-a, -b, -c) for a, b, c in reversed(legs)], bends=alike(radius))
    again = [lacking(corner, 0.0) for corner in corners_of(back)][::-1]
    assert [one is None for one in there] == [one is None for one in again]


def test_entries_and_corners() -> None:
    legs: list[Inches] = [(20, 0, 0), (0, 20, 0), (0, 0, 20)]
    five, ell = Bend(radius=read_length("5 in")), Bend(fitting="ell")
    assert [corner.bend for corner in corners_of(run_of(legs, bends=Bends(each=(five,))))] == [five, None]
    more = list(corners_of(run_of(legs, bends=Bends(each=(five, ell, five)))))
    assert [corner.turn is None for corner in more] == [False, False, True]
    assert run_of(legs, bends=Bends(each=(five, ell))).taken_m == (pytest.approx(5 * IN), 0.0)
    no_path = bent(Run("r", bends=Bends(each=(five, ell))), TUBE, None, None)
    assert [corner.number for corner in corners_of(no_path)] == [1, 2]
    assert [corner.number for corner in corners_of(bent(Run("r"), TUBE, None, None))] == [0]
    assert list(corners_of(bent(Run("r", bends="none"), TUBE, None, None))) == []


@pytest.mark.parametrize(
    ("at", "turned"), [("12 in", {1}), ("17 in", {2}), ("14 in", {1}), ("30 in", set()), ("4 in", set())]
)
def test_an_ell_turns_its_nearest_corner(at: str, turned: set[int]) -> None:
    ells = (Along("ell", at=read_length(at)),)
    found = run_of([(12, 0, 0), (0, 5, 0), (24, 0, 0)], bends=alike(2), along=ells)
    assert found.fittings == turned


def test_legs_by_their_place_in_the_path() -> None:
    legs: list[Inches] = [(12, 0, 0), (8, 0, 0), (0, 20, 0), (0, 0, 9)]  # the first two go on straight
    one, two = corners_of(run_of(legs, bends=alike(5)))
    assert [leg_of(one, "before"), leg_of(one, "after"), leg_of(two, "before"), leg_of(two, "after")] == [1, 2, 2, 3]
    zero = read_length("0 in")
    one, two = corners_of(run_of(legs, first=PathPoint(zero, zero, zero), bends=alike(5)))
    assert [leg_of(one, "before"), leg_of(two, "after")] == [2, 4]


def test_how_near_an_expansion_fitting_is() -> None:
    legs: list[Inches] = [(20, 0, 0), (0, 30, 0)]

    def straight(joint: Joints, **said: Any) -> float | None:
        found = near_expansion_m(next(corners_of(run_of(legs, bends=alike(5), joint=joint, **said))))
        return None if found is None else found / IN

    both, crimp = Joints("expansion ring", "expansion ring"), Joints("copper crimp ring", "copper crimp ring")
    assert straight(crimp) is None
    assert straight(both) == pytest.approx(15)
    assert straight(Joints("press", "expansion sleeve")) == pytest.approx(25)
    coupling = (Along("coupling", at=read_length("28 in")),)
    assert straight(both, along=coupling) == pytest.approx(3)
