"""What is printed, by hand; every figure also follows from 1 in = 25.4 mm and the like."""

from __future__ import annotations

import pytest

from plancheck.measures import METRIC, US, MeasureError, show_length, show_quantity, write_length, write_quantity

INCH = 0.0254
PSI = 0.45359237 * 9.80665 / INCH**2
IN_METRES = METRIC._replace(length="m")
IN_KPA = METRIC._replace(pressure="kPa", flow="L/min")


@pytest.mark.parametrize(
    ("inches", "text"),
    (
        (0, "0 in"),
        (0.5, "1/2 in"),
        (18, "18 in"),
        (6.5, "6-1/2 in"),
        (23.9375, "23-15/16 in"),
        (23.99, "2 ft"),
        (24, "2 ft"),
        (32, "2 ft 8 in"),
        (36.5, "3 ft 1/2 in"),
        (42.5, "3 ft 6-1/2 in"),
        (42.53, "3 ft 6-1/2 in"),
        (-6, "-6 in"),
        (-42.5, "-3 ft 6-1/2 in"),
        (-0.01, "0 in"),
        (540, "45 ft"),
        (813 / 25.4, "2 ft 8 in"),
    ),
)
def test_lengths_us(inches: float, text: str) -> None:
    assert show_length(inches * INCH, US) == text


@pytest.mark.parametrize(
    ("metres", "in_mm", "in_m"),
    (
        (0.0, "0 mm", "0 mm"),
        (0.8128, "813 mm", "813 mm"),
        (-0.04, "-40 mm", "-40 mm"),
        (1.2, "1200 mm", "1.20 m"),
        (1.9994, "1999 mm", "2.00 m"),
        (2.0, "2.00 m", "2.00 m"),
        (2.345, "2.35 m", "2.35 m"),
        (9.994, "9.99 m", "9.99 m"),
        (9.996, "10.0 m", "10.0 m"),
        (12.42, "12.4 m", "12.4 m"),
        (-12.42, "-12.4 m", "-12.4 m"),
    ),
)
def test_lengths_metric(metres: float, in_mm: str, in_m: str) -> None:
    assert show_length(metres, METRIC) == in_mm
    assert show_length(metres, IN_METRES) == in_m


def test_lengths_a_tape_does_not_tell_apart() -> None:
    assert show_length(18 * INCH, US) == show_length(17.98 * INCH, US)
    assert show_length(17.98 * INCH, US, exact=True) == "17.98 in"
    assert show_length(18 * INCH, US, exact=True) == "18 in"
    assert show_length(0.8128, METRIC, exact=True) == "812.8 mm"


@pytest.mark.parametrize(
    ("si", "kind", "us", "metric", "kpa"),
    (
        (60 * PSI, "pressure", "60 psi", "4.14 bar", "414 kPa"),
        (4.1e5, "pressure", "59.5 psi", "4.1 bar", "410 kPa"),
        (-0.2 * PSI, "pressure", "-0.2 psi", "-0.01 bar", "-1.4 kPa"),
        (-1.0, "pressure", "0 psi", "0 bar", "0 kPa"),
        (2.5 * 3.785411784e-3 / 60, "flow", "2.5 gpm", "0.158 L/s", "9.5 L/min"),
        (40 * 3.785411784e-3, "volume", "40 gal", "151 L", "151 L"),
        (0.92 * 3.785411784e-3, "volume", "0.92 gal", "3.48 L", "3.48 L"),
        ((120 - 32) / 1.8, "temperature", "120 degF", "48.9 degC", "48.9 degC"),
        (49.0, "temperature", "120.2 degF", "49 degC", "49 degC"),
        (2.0, "difference", "3.6 degF", "2 degC", "2 degC"),
        (8 * 0.3048, "speed", "8 ft/s", "2.44 m/s", "2.44 m/s"),
        (40000 * 1055.05585262 / 3600, "power", "40000 Btu/h", "11.7 kW", "11.7 kW"),
        (35.0, "duration", "35 s", "35 s", "35 s"),
        (1200.0, "duration", "20 min", "20 min", "20 min"),
        (7200.0, "duration", "2 h", "2 h", "2 h"),
        (30 * 86400.0, "duration", "30 days", "30 days", "30 days"),
        (42.672, "head", "140 ft", "42.7 m", "42.7 m"),
        (2.7, "load", "2.7 wsfu", "2.7 wsfu", "2.7 wsfu"),
        (1 / 48, "slope", "0.25 in/ft", "2.08 %", "2.08 %"),
        (0.7853981633974483, "angle", "45 deg", "45 deg", "45 deg"),
        (0.0, "flow", "0 gpm", "0 L/s", "0 L/min"),
    ),
)
def test_quantities(si: float, kind: str, us: str, metric: str, kpa: str) -> None:
    assert [show_quantity(si, kind, units) for units in (US, METRIC, IN_KPA)] == [us, metric, kpa]


@pytest.mark.parametrize(
    ("metres", "us", "metric"),
    ((0.4572, "18 in", "457.2 mm"), (1.0795, "3 ft 6-1/2 in", "1079.5 mm"), (0.5, "19.6850393700787 in", "500 mm")),
)
def test_written_lengths(metres: float, us: str, metric: str) -> None:
    assert write_length(metres, US) == us
    assert write_length(metres, METRIC) == metric


def test_written_quantities() -> None:
    assert write_quantity(60 * PSI, "pressure", METRIC) == "4.13685437590102 bar"
    assert write_quantity(60 * PSI, "pressure", US) == "60 psi"
    assert write_quantity((120 - 32) / 1.8, "temperature", US) == "120 degF"


@pytest.mark.parametrize("bad", (float("nan"), float("inf"), -float("inf"), 1e300))
def test_what_is_no_number_is_not_printed(bad: float) -> None:
    for print_length in (show_length, write_length):
        with pytest.raises(MeasureError, match="no number one can measure"):
            print_length(bad, US)
    for print_quantity in (show_quantity, write_quantity):
        with pytest.raises(MeasureError, match="no number one can measure"):
            print_quantity(bad, "flow", METRIC)


def test_less_than_nothing_is_not_written() -> None:
    with pytest.raises(MeasureError, match="less than any flow can be"):
        write_quantity(-1.0, "flow", US)
    assert show_quantity(-0.0001, "flow", US) == "-1.59 gpm"


def test_an_unknown_kind_is_not_printed() -> None:
    with pytest.raises(MeasureError, match="no kind of quantity"):
        show_quantity(1.0, "weight", US)
