"""What is measured in two ways: found once, with the right figures, and with what the plan leaves open granted."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.geometry import Miss
from plancheck.report.assemble import pointer
from tests.casework import judge, plan_of
from tests.geometry.walks import FT, IN, geometry

LOOP = "t: {is: tee, at: [0, 0, 0]}\nu: {is: tee, at: [6 ft, 0, 0]}\nshower: {is: shower, place: bath}"


def two_walks(*more: str) -> str:
    """A walk to each side of the shower; the second goes the legs given further."""
    legs = ", ".join(("up 9 ft", "west 3 ft", *more))
    first = "a: {from: t/out, to: shower/cold, tube: t, path: [up 9 ft, east 3 ft]}"
    return f"{first}\nb: {{from: u/out, to: shower/hot, tube: t, path: [{legs}]}}"


def only(found: tuple[Miss, ...], what: str) -> Miss:
    (one,) = (miss for miss in found if miss.what == what)
    return one


def test_two_walks_that_meet_are_compared_once() -> None:
    runs = two_walks()
    found = geometry(LOOP, runs)
    assert len(found.compared) == 1
    assert only(found.compared, "position").gap_m == pytest.approx(0)
    assert found.misses == ()


@pytest.mark.parametrize(
    ("leg", "axis", "gap"), [("east 1 ft", "east", 12), ("south 8 in", "north", 8), ("up 7 in", "up", 7)]
)
def test_a_miss_has_both_figures_along_the_axis_that_differs_most(leg: str, axis: str, gap: int) -> None:
    runs = two_walks(leg)
    (miss,) = geometry(LOOP, runs).misses
    assert (miss.what, miss.run, miss.by, miss.part, miss.axis) == ("position", "b", "a", "shower", axis)
    assert miss.gap_m == pytest.approx(gap * IN)
    assert abs(miss.second_m - miss.first_m) == pytest.approx(gap * IN)
    assert miss.least_m == pytest.approx(gap * IN)  # nothing is granted at a shower


def test_a_gap_over_several_axes_is_the_straight_distance() -> None:
    runs = two_walks("north 3 in", "up 4 in")
    assert geometry(LOOP, runs).misses[0].gap_m == pytest.approx(5 * IN)


def test_the_two_sides_of_a_lavatory_may_stand_4_in_further_apart_level_but_not_upright() -> None:
    parts = LOOP.replace("shower: {is: shower", "shower: {is: lavatory")
    for leg, least in (("east 7 in", 3), ("up 7 in", 7)):
        runs = two_walks(leg)
        assert geometry(parts, runs).misses[0].least_m == pytest.approx(least * IN)


def test_a_run_between_two_known_parts_is_compared_at_its_far_end() -> None:
    found = geometry(LOOP, "a: {from: t/out, to: u, tube: t, path: [east 5 ft]}")
    (miss,) = found.misses
    assert (miss.run, miss.part) == ("a", "u")
    assert [miss.first_m, miss.second_m] == pytest.approx([6 * FT, 5 * FT])


def test_a_path_that_begins_at_a_measured_point_is_compared_at_both_ends() -> None:
    found = geometry(LOOP, "a: {from: t/out, to: u, tube: t, path: [[1 ft, 0, 0], east 5 ft]}")
    assert [(miss.part, round(miss.gap_m / FT, 6)) for miss in found.compared] == [("t", 1), ("u", 0)]


def test_the_run_that_sets_a_height_is_not_compared_with_itself() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet, place: bath, height: 8 in}", "a: {from: t/out, to: wc, tube: t, rise: 1 ft}"
    )
    assert found.compared == ()


def test_two_heights_and_the_rise_between_them() -> None:
    parts = """
    wc: {is: toilet, place: bath, height: 8 in}
    hose: {is: hose outlet, place: cellar, height: 3 ft}
    t: {is: tee}
    """
    runs = "a: {from: t/out, to: wc, tube: t, rise: 2 ft}\nb: {from: t/branch, to: hose, tube: t, rise: -5 ft}"
    miss = only(geometry(parts, runs).compared, "ends")
    assert miss.gap_m == pytest.approx((9 * 12 + 8 - 24 - 36 - 60) * -1 * IN)


def test_a_rise_beside_a_path() -> None:
    found = geometry(LOOP, "a: {from: t/out, to: shower/cold, tube: t, path: [up 9 ft], rise: 8 ft}")
    miss = only(found.compared, "rise")
    assert [miss.first_m, miss.second_m] == pytest.approx([8 * FT, 9 * FT])


@pytest.mark.parametrize(
    ("keys", "axis", "least"),
    [
        ("path: [up 3 ft, east 4 ft]", "path", 7 * FT),
        ("path: [east 4 ft and up 3 ft]", "path", 5 * FT),
        ("rise: 6 ft", "rise", 6 * FT),
        ("rise: -6 ft", "rise", 6 * FT),
    ],
)
def test_tube_against_what_it_must_span(keys: str, axis: str, least: float) -> None:
    found = geometry("t: {is: tee}\nwc: {is: toilet}", f"a: {{from: t/out, to: wc, tube: t, length: 4 ft, {keys}}}")
    miss = only(found.compared, "length")
    assert miss.axis == axis
    assert [miss.first_m, miss.second_m] == pytest.approx([4 * FT, least])
    assert miss.gap_m == pytest.approx(least - 4 * FT)


def test_tube_against_where_its_ends_stand() -> None:
    found = geometry(LOOP, "a: {from: t/out, to: u, tube: t, length: 4 ft}")
    assert only(found.misses, "length").gap_m == pytest.approx(2 * FT)
    long = geometry(LOOP, "a: {from: t/out, to: u, tube: t, length: 9 ft}")
    assert long.misses == ()


def test_a_row_that_is_not_said_leaves_its_body_open() -> None:
    ports = "ports: {in: {use: feed}, A: {}, B: {}, C: {}}"
    row = f"row: {{is: manifold, at: [0, 0, 0], shape: straight, spacing: 6 in, {ports}}}"
    found = geometry(f"{row}\n{LOOP}", "a: {from: row/C, to: u, tube: t, path: [east 4 ft 6 in]}")
    (miss,) = found.misses
    assert miss.row == "row"
    assert [miss.gap_m, miss.least_m] == pytest.approx([18 * IN, 0])
    said = geometry(
        f"{row.replace('shape:', 'row: east, shape:')}\n{LOOP}",
        "a: {from: row/C, to: u, tube: t, path: [east 4 ft 6 in]}",
    )
    assert said.misses == ()


def test_estimates_are_named_however_far_back_they_are() -> None:
    runs = """
    a: {from: t/out, to: v, tube: t, path: [up about 9 ft]}
    b: {from: v/out, to: shower/cold, tube: t, path: [east 3 ft]}
    c: {from: u/out, to: shower/hot, tube: t, path: [up 9 ft, west 3 ft]}
    """
    miss = only(geometry(LOOP + "\nv: {is: tee}", runs).compared, "position")
    assert miss.about == "the path of a"


def _causes(change: dict[str, Any]) -> dict[str, str | None]:
    found = (one for one in judge(plan_of({"change": change}), "walked_paths") if one.outcome.kind == "broken")
    return {pointer(one.subject.path): pointer(one.outcome.cause) if one.outcome.cause else None for one in found}


def test_one_wrong_leg_is_one_root() -> None:
    found = _causes({"runs/bath-cold/path": ["up 2 ft", "north 10 ft", "up 2 ft 8 in"]})
    assert found == {"/runs/bath-lav-c": None, "/runs/bath-shower-c": "/runs/bath-lav-c"}


def test_two_wrong_legs_of_different_size_are_two_roots() -> None:
    found = _causes({"runs/bath-lav-c/path": ["up 3 ft"], "runs/bath-shower-c/path": ["up 6 ft"]})
    assert found == {"/runs/bath-lav-c": None, "/runs/bath-shower-c": None}
