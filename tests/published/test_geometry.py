"""Bend radii, outside diameters and bend geometry against printed tables and worked cases."""

from __future__ import annotations

import math

import pytest

from plancheck.geometry.shape import shape_of_path
from plancheck.measures import read_length, read_size
from plancheck.model import Leg, Tube
from plancheck.tubedata import tube_outside_m
from tests.casework import judge, plan_of

IN, FT = 0.0254, 0.3048

# nominal size, outside diameter in, 6 and 8 outside diameters in: ASTM F876 outside diameters (read), products printed in
# makers' tables (3-3/4, 5-1/4, 6-3/4 read for 1/2, 3/4, 1)
TABLE = [
    ("3/8", 0.500, 3.00, 4.00),
    ("1/2", 0.625, 3.75, 5.00),
    ("5/8", 0.750, 4.50, 6.00),
    ("3/4", 0.875, 5.25, 7.00),
    ("1", 1.125, 6.75, 9.00),
    ("1-1/4", 1.375, 8.25, 11.00),
    ("1-1/2", 1.625, 9.75, 13.00),
    ("2", 2.125, 12.75, 17.00),
]


@pytest.mark.parametrize(("size", "outside", "six", "eight"), TABLE)
def test_outside_diameters_and_radii(size: str, outside: float, six: float, eight: float) -> None:
    tube = Tube("x", "PEX-B", size=read_size(size))
    found = tube_outside_m(tube)
    assert found == pytest.approx(outside * IN)
    assert found is not None
    assert found * 6 == pytest.approx(six * IN)
    assert found * 8 == pytest.approx(eight * IN)


@pytest.mark.parametrize(("size", "inches"), [("1/2", 5), ("3/4", 7), ("1", 9)])
def test_textbook_radii_of_eight_diameters(size: str, inches: float) -> None:
    """A plumbing textbook's PEX chapter (read): 1/2 5 in, 3/4 7 in, 1 9 in."""
    found = tube_outside_m(Tube("x", "PEX-B", size=read_size(size)))
    assert found is not None
    assert 8 * found == pytest.approx(inches * IN)


@pytest.mark.parametrize(("size", "inches"), [("1/2", 11.25), ("3/4", 15.75)])
def test_against_the_coil(size: str, inches: float) -> None:
    """A maker's manual p. 39 (read): 11.25 and 15.75 in against the coil, three times six diameters."""
    found = tube_outside_m(Tube("x", "PEX-A", size=read_size(size)))
    assert found is not None
    assert 3 * 6 * found == pytest.approx(inches * IN)


@pytest.mark.parametrize(("size", "inches"), [("1/2", 0.625), ("3/4", 0.875), ("1", 1.125), ("2", 2.125)])
def test_copper_tube_is_an_eighth_over_its_name(size: str, inches: float) -> None:
    """ASTM B88 (table read)."""
    assert tube_outside_m(Tube("x", "copper", size=read_size(size))) == pytest.approx(inches * IN)


def test_stated_and_metric_diameters() -> None:
    assert tube_outside_m(Tube("x", "PEX-A", size=read_size("16 mm"))) == pytest.approx(0.016)
    stated = Tube("x", "PEX-A", size=read_size("1/2"), outside=read_length("17 mm"))
    assert tube_outside_m(stated) == pytest.approx(0.017)
    assert tube_outside_m(Tube("x", "PEX-A", size=read_size("DN15"))) is None
    assert tube_outside_m(Tube("x", "PEX-A")) is None


def test_a_right_angle_takes_its_radius_and_half_of_it_at_45_degrees() -> None:
    """Tangent length R tan(turn / 2): R for a right angle, 0.4142 R for 45 degrees (elementary geometry)."""
    legs = (Leg(1, 0, 0), Leg(0, 1, 0), Leg(1 / math.sqrt(2), 1 / math.sqrt(2), 0))
    shape = shape_of_path(legs, {})
    assert shape is not None
    assert [math.degrees(turn.angle) for turn in shape.turns] == pytest.approx([90, 45])
    assert math.tan(shape.turns[0].angle / 2) == pytest.approx(1)
    assert math.tan(shape.turns[1].angle / 2) == pytest.approx(math.sqrt(2) - 1)


@pytest.mark.parametrize(("leg", "fits"), [("2 in", False), ("2-1/8 in", True)])
def test_a_45_degree_bend_needs_less_straight(leg: str, fits: bool) -> None:
    """A 5 in bend of 45 degrees takes 5 tan 22.5 = 2.07 in of each leg; a sixteenth of grace."""
    case = {"change": {"runs/bath-lav-c/path": ["up 12 in", _slope(leg)]}}
    found = [
        one for one in judge(plan_of(case), "bend_radius") if one.subject.path == ("runs", "bath-lav-c", "bends", 0)
    ]
    assert (found[0].outcome.kind == "holds") is fits


def _slope(leg: str) -> str:
    """A leg at 45 degrees of the length given."""
    side = read_length(leg).m / math.sqrt(2) / IN
    return f"up {side:.6f} in and east {side:.6f} in"


def test_three_four_five() -> None:
    """A leg 3 ft up and 4 ft east is 5 ft long and lies nearer level than upright."""
    shape = shape_of_path((Leg(4 * FT, 0, 3 * FT),), {})
    assert shape is not None
    assert shape.length_m == pytest.approx(5 * FT)
    assert shape.upright_m == 0
