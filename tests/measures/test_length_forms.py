"""Every way a plumber writes a length, against exact arithmetic: 1 in = 25.4 mm and 1 ft = 12 in by definition."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plancheck.measures import Length, read_length

INCH_M = Fraction(254, 10000)


def feet_inches(feet: int, inches: Fraction | int | str = 0) -> float:
    return float((feet * 12 + Fraction(inches)) * INCH_M)


THREE_SIX_AND_A_HALF = (
    "3'-6 1/2\"",
    "3' 6-1/2\"",
    "3'6.5\"",
    "3 ft 6-1/2 in",
    "3 ft. 6 1/2 in.",
    "3 ft. 6-1/2 in.",
    "3ft6-1/2in",
    "3 feet 6 1/2 inches",
    "3 foot 6.5 inch",
    "3' - 6 1/2\"",
    "3' -6 1/2\"",
    "3'- 6 1/2\"",
    "3 Ft 6-1/2 IN",
    "3 ft, 6-1/2 in",
    "3′-6 1/2″",
    "3’-6 1/2”",
    "3‘6 1/2“",
    "3'6 1/2''",
    "3′6 1/2′′",
    "3'–6 1/2\"",
    "3'−6 1/2\"",
    "3'‑6 1/2\"",
    "3\u00a0ft\u00a06-1/2\u00a0in",
    "3\u202fft 6\u20091/2\u202fin",
    "3' 6½\"",
    "3′-6½″",
    "3 ft 6 ½ in",
    "3 ft 6 1⁄2 in",
    '42 1/2"',
    "42-1/2 in",
    "42.5 in",
    "42½ in",
    "42 1/2-inch",
    "+3'-6 1/2\"",
    "  3 ft 6-1/2 in\t",
    "3 ft   6-1/2   in",
    "3 ft 6-16/32 in",
    "3 ft 6-32/64 in",
)


@pytest.mark.parametrize("text", THREE_SIX_AND_A_HALF)
def test_three_feet_six_and_a_half_inches(text: str) -> None:
    assert read_length(text) == Length(feet_inches(3, "13/2"), text.strip())


FEET_AND_INCHES = (
    ("18 in", 0, "18"),
    ('18"', 0, "18"),
    ("18''", 0, "18"),
    ("3'", 3, "0"),
    ("3 ft", 3, "0"),
    ("3 FT.", 3, "0"),
    ("3ft6in", 3, "6"),
    ("3 feet 6 inches", 3, "6"),
    ("3' - 6\"", 3, "6"),
    ("0'-6\"", 0, "6"),
    ("-0'-6\"", 0, "-6"),
    ("−0′-6″", 0, "-6"),
    ("-3 ft", -3, "0"),
    ("- 3 ft 6 in", -3, "-6"),
    ("3.54 ft", 0, "42.48"),
    ("6-1/2 in", 0, "6.5"),
    ("1/2 in", 0, "0.5"),
    ("½ in", 0, "0.5"),
    ("1½ in", 0, "1.5"),
    ("¼ in", 0, "1/4"),
    ("¾ in", 0, "3/4"),
    ("⅛ in", 0, "1/8"),
    ("⅜ in", 0, "3/8"),
    ("⅝ in", 0, "5/8"),
    ("⅞ in", 0, "7/8"),
    (".5 in", 0, "1/2"),
    ("3 ft 1/2 in", 3, "1/2"),
    ("3 ft 0-1/2 in", 3, "1/2"),
    ("2-1/2 ft", 0, "30"),
    ("3 ft 11-63/64 in", 3, "767/64"),
    ("14-in", 0, "14"),
    ("14-inch", 0, "14"),
    ("1 200 in", 0, "1200"),
)


@pytest.mark.parametrize(("text", "feet", "inches"), FEET_AND_INCHES)
def test_feet_and_inches(text: str, feet: int, inches: str) -> None:
    assert read_length(text).m == pytest.approx(feet_inches(feet, inches), rel=1e-15)


METRIC = (
    ("19 mm", "0.019"),
    ("19mm", "0.019"),
    ("19 MM", "0.019"),
    ("813 mm", "0.813"),
    ("1.2 m", "1.2"),
    ("1.2 M", "1.2"),
    ("120 cm", "1.2"),
    ("1200 mm", "1.2"),
    ("1 200 mm", "1.2"),
    ("1\u2009200 mm", "1.2"),
    ("1\u202f200\u00a0mm", "1.2"),
    ("12 345.5 mm", "12.3455"),
    ("2 metres", "2"),
    ("2 meters", "2"),
    ("350 millimetres", "0.35"),
    ("-40 mm", "-0.04"),
)


@pytest.mark.parametrize(("text", "metres"), METRIC)
def test_metric(text: str, metres: str) -> None:
    assert read_length(text).m == pytest.approx(float(Fraction(metres)), rel=1e-15)


@pytest.mark.parametrize(
    "text",
    (
        "32 in o.c.",
        "32 in o.c",
        '32" o.c.',
        '32" OC',
        '32"OC',
        '@ 32"',
        "@32 in",
        "@ 32 in o.c.",
        'max 32"',
        "MAX. 32 in",
        "32 in on center",
        "32 in on centre",
        "32 in on centers",
        "2 ft 8 in o.c.",
    ),
)
def test_spacing(text: str) -> None:
    assert read_length(text) == Length(feet_inches(0, 32), text)


@pytest.mark.parametrize("text", ("about 45 ft", "About 45 ft", "about 45'", "about  540 in"))
def test_an_estimate(text: str) -> None:
    assert read_length(text) == Length(feet_inches(45), text, about=True)


@pytest.mark.parametrize("zero", (0, 0.0, -0.0, "0", "0.0", "-0", "0 in", "0 mm", "-0'-0\""))
def test_zero_needs_no_unit(zero: str | float) -> None:
    found = read_length(zero)
    assert str(found.m) == "0.0"
    assert not found.about


def test_a_foot_is_twelve_inches_to_the_last_bit() -> None:
    for feet in range(200):
        assert read_length(f"{feet} ft").m == read_length(f"{12 * feet} in").m


def test_a_reader_may_hand_over_its_own_kind_of_text() -> None:
    class Scalar(str):
        __slots__ = ("line",)

    found = read_length(Scalar("18 in"))
    assert found == Length(feet_inches(0, 18), "18 in")
    assert type(found.text) is str
