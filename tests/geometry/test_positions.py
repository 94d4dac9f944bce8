"""Positions in a room whose coordinates are known: walks from known ends, either way, rows of ports, parts made up."""

from __future__ import annotations

import pytest

from tests.geometry.walks import geometry, plan_of, where

ROW = (
    "row: {is: manifold, place: cellar, at: [10 ft, 2 ft, 5 ft], row: %s, shape: straight, spacing: 4 in, "
    "ports: {in: {use: feed}, A: {}, B: {next: 10 in}, C: {}}}"
)


def test_a_walk_from_a_known_part() -> None:
    found = geometry(
        "t: {is: tee, at: [10 ft, 0, 5 ft]}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [up 2 ft, north 8 ft, east 16 in]}",
    )
    assert where(found, "wc/cold") == pytest.approx((136, 96, 84))


def test_a_walk_backwards_from_a_known_end() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet, at: [136 in, 8 ft, 7 ft]}",
        "a: {from: t/out, to: wc, tube: t, path: [up 2 ft, north 8 ft, east 16 in]}",
    )
    assert where(found, "t/out") == pytest.approx((120, 0, 60))
    assert where(found, "t/branch") == pytest.approx((120, 0, 60))


def test_there_and_on_through_several_parts_whatever_way_the_runs_are_written() -> None:
    found = geometry(
        "t1: {is: tee, at: [0, 0, 0]}\nt2: {is: tee}\nt3: {is: tee}\nwc: {is: toilet}",
        """
        c: {from: t3/branch, to: wc, tube: t, path: [south 1 ft]}
        b: {from: t3/in, to: t2/out, tube: t, path: [west 3 ft]}
        a: {from: t1/out, to: t2, tube: t, path: [up 4 ft]}
        """,
    )
    assert where(found, "t3/in") == pytest.approx((36, 0, 48))
    assert where(found, "wc/cold") == pytest.approx((36, -12, 48))


@pytest.mark.parametrize(
    ("row", "step"),
    [
        ("east", (1, 0, 0)),
        ("west", (-1, 0, 0)),
        ("north", (0, 1, 0)),
        ("south", (0, -1, 0)),
        ("up", (0, 0, 1)),
        ("down", (0, 0, -1)),
    ],
)
def test_ports_stand_along_their_row(row: str, step: tuple[int, int, int]) -> None:
    found = geometry(ROW % row, "{}")
    for port, along in (("in", 0), ("A", 4), ("B", 8), ("C", 18)):
        wanted = tuple(base + along * way for base, way in zip((120, 24, 60), step, strict=True))
        assert where(found, f"row/{port}") == pytest.approx(wanted)


def test_without_a_row_all_ports_stand_at_the_point() -> None:
    found = geometry(ROW.replace("row: %s, ", ""), "{}")
    assert where(found, "row/in") == where(found, "row/C") == pytest.approx((120, 24, 60))


def test_a_manifold_is_placed_by_any_of_its_ports() -> None:
    found = geometry(
        ROW.replace("at: [10 ft, 2 ft, 5 ft], ", "") % "east" + "\nwc: {is: toilet, at: [20 ft, 0, 8 ft]}",
        "a: {from: row/C, to: wc, tube: t, path: [up 3 ft, east 10 ft]}",
    )
    assert where(found, "row/C") == pytest.approx((120, 0, 60))
    assert where(found, "row/in") == pytest.approx((102, 0, 60))


def test_a_path_that_begins_at_a_measured_point_needs_nothing_else() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [[10 ft 4 in, 1 ft, 5 ft], up 2 ft, north 10 ft]}",
    )
    assert where(found, "t/out") == pytest.approx((124, 12, 60))
    assert where(found, "wc/cold") == pytest.approx((124, 132, 84))


def test_a_point_may_be_measured_above_a_floor() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [[0, 0, 20 in above bath], east 1 ft]}",
    )
    assert where(found, "wc/cold") == pytest.approx((12, 0, 128))


def test_a_point_above_a_floor_whose_level_is_not_said_is_no_position() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [[0, 0, 20 in above yard], east 1 ft]}",
    )
    assert where(found, "wc/cold") is None
    assert "a" not in found.shapes


def test_a_measured_point_in_the_middle_is_reached_from_a_known_start() -> None:
    found = geometry(
        "t: {is: tee, at: [0, 0, 0]}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [up 3 ft, [4 ft, 0, 3 ft], north 2 ft]}",
    )
    assert where(found, "wc/cold") == pytest.approx((48, 24, 36))
    assert found.shapes["a"].length_m == pytest.approx(9 * 0.3048)
    assert [stretch.upright for stretch in found.shapes["a"].stretches] == [True, False, False]


def test_a_measured_point_in_the_middle_without_a_known_start_has_no_shape() -> None:
    found = geometry(
        "t: {is: tee}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, path: [up 3 ft, [4 ft, 0, 3 ft], north 2 ft]}",
    )
    assert "a" not in found.shapes
    assert where(found, "wc/cold") is None


def test_a_chain_of_parts_made_up_to_each_other_stands_in_one_place() -> None:
    chain = """
    meter: {is: meter}
    valve: {is: valve, onto: meter}
    t: {is: tee, onto: valve}
    g: {is: test port, onto: t/branch}
    wc: {is: toilet}
    """
    run = "a: {from: t/out, to: wc, tube: t, path: [up 2 ft]}"
    for known in ("meter: {is: meter", "g: {is: test port", "t: {is: tee"):
        found = geometry(chain.replace(known, f"{known}, at: [1 ft, 2 ft, 3 ft]"), run)
        assert where(found, "meter/in") == where(found, "g/in") == pytest.approx((12, 24, 36))
        assert where(found, "wc/cold") == pytest.approx((12, 24, 60))


def test_a_manifold_made_up_by_its_feed() -> None:
    found = geometry(
        "valve: {is: valve, at: [0, 0, 5 ft]}\n" + (ROW.replace("at: [10 ft, 2 ft, 5 ft]", "onto: valve") % "east"),
        "{}",
    )
    assert where(found, "row/in") == pytest.approx((0, 0, 60))
    assert where(found, "row/C") == pytest.approx((18, 0, 60))


def test_a_run_with_only_a_length_leads_nowhere() -> None:
    found = geometry("t: {is: tee, at: [0, 0, 0]}\nwc: {is: toilet}", "a: {from: t/out, to: wc, tube: t, length: 9 ft}")
    assert where(found, "wc/cold") is None
    assert found.shapes == {}


def test_removed_runs_are_not_walked() -> None:
    found = geometry(
        "t: {is: tee, at: [0, 0, 0]}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, work: removed, path: [up 9 ft]}",
    )
    assert where(found, "wc/cold") is None


def test_corners_of_a_run_in_the_house() -> None:
    parts, runs = (
        "t: {is: tee}\nwc: {is: toilet, at: [10 ft, 10 ft, 10 ft]}",
        "a: {from: t/out, to: wc, tube: t, path: [up 2 ft, east 3 ft]}",
    )
    plan = plan_of(parts, runs)
    corners = geometry(parts, runs).corners(plan.runs["a"])
    assert corners is not None
    wanted = [(84, 120, 96), (84, 120, 120), (120, 120, 120)]
    for corner, want in zip(corners, wanted, strict=True):
        assert [axis / 0.0254 for axis in corner] == pytest.approx(list(want))


def test_corners_need_a_known_end() -> None:
    parts, runs = "t: {is: tee}\nwc: {is: toilet}", "a: {from: t/out, to: wc, tube: t, path: [up 2 ft]}"
    assert geometry(parts, runs).corners(plan_of(parts, runs).runs["a"]) is None
