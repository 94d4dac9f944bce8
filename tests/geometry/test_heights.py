"""Heights, of more connections than have a position: floors, rises either way, paths, parts made up to each other."""

from __future__ import annotations

import pytest

from tests.geometry.walks import geometry, height, where


def test_a_height_counts_from_the_floor_of_its_place() -> None:
    found = geometry("lav: {is: lavatory, place: bath, height: 20 in}", "{}")
    assert height(found, "lav/cold") == height(found, "lav/hot") == pytest.approx(128)


def test_a_floor_whose_level_is_not_said_gives_none() -> None:
    found = geometry("hose: {is: hose outlet, place: yard, height: 18 in}\nwc: {is: toilet, height: 8 in}", "{}")
    assert height(found, "hose/cold") is None
    assert height(found, "wc/cold") is None


def test_rises_are_followed_either_way() -> None:
    found = geometry(
        "t1: {is: tee}\nt2: {is: tee}\nlav: {is: lavatory, place: bath, height: 20 in}",
        "a: {from: t1/out, to: t2, tube: t, rise: 7 ft}\nb: {from: t2/out, to: lav/cold, tube: t, rise: -6 in}",
    )
    assert height(found, "t2/branch") == pytest.approx(134)
    assert height(found, "t1/in") == pytest.approx(50)


def test_a_path_gives_its_rise_where_no_position_is_known() -> None:
    found = geometry(
        "t: {is: tee}\nlav: {is: lavatory, place: bath, height: 20 in}",
        "a: {from: t/out, to: lav/cold, tube: t, path: [up 3 ft, east 2 ft, down 1 ft]}",
    )
    assert height(found, "t/out") == pytest.approx(104)
    assert where(found, "t/out") is None


def test_a_run_without_path_or_rise_ends_the_walk() -> None:
    found = geometry(
        "t: {is: tee}\nlav: {is: lavatory, place: bath, height: 20 in}",
        "a: {from: t/out, to: lav/cold, tube: t, length: 3 ft}",
    )
    assert height(found, "t/out") is None


def test_parts_made_up_to_each_other_stand_at_one_height() -> None:
    found = geometry(
        """
        meter: {is: meter}
        valve: {is: valve, onto: meter}
        t: {is: tee, onto: valve}
        hose: {is: hose outlet, place: cellar, height: 3 ft}
        """,
        "a: {from: t/out, to: hose, tube: t, rise: 1 ft}",
    )
    assert height(found, "meter/in") == pytest.approx(24)


def test_a_row_that_stands_upright_has_its_ports_at_their_own_heights() -> None:
    row = "row: {is: manifold, row: up, shape: straight, spacing: 6 in, ports: {in: {use: feed}, A: {}, B: {}}}"
    found = geometry(
        f"{row}\nlav: {{is: lavatory, place: bath, height: 20 in}}",
        "a: {from: row/B, to: lav/cold, tube: t, rise: 4 ft}",
    )
    assert height(found, "row/B") == pytest.approx(80)
    assert height(found, "row/in") == pytest.approx(68)


def test_positions_count_before_rises() -> None:
    found = geometry(
        "t: {is: tee, at: [0, 0, 3 ft]}\nwc: {is: toilet}",
        "a: {from: t/out, to: wc, tube: t, rise: 2 ft, length: 4 ft}",
    )
    assert height(found, "wc/cold") == pytest.approx(60)
