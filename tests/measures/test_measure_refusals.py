"""What is refused, and the words for it: what was found, and how to write it."""

from __future__ import annotations

import pytest

from plancheck.measures import MeasureError, read_length, read_quantity, read_size

LENGTHS = (
    (12, "'12' has no unit", "12 could be 12 in or 12 ft: write the unit"),
    (12.5, "'12.5' has no unit", "12.5 in or 12.5 ft"),
    (1200, "'1200' has no unit", "1200 in or 1200 mm"),
    ("12", "'12' has no unit", "12 in or 12 ft"),
    ("1/2", "'1/2' has no unit", "1/2 in or 1/2 ft"),
    ("3-1/2", "'3-1/2' has no unit", "3-1/2 in or 3-1/2 ft"),
    ("about 12", "'about 12' has no unit", "12 in or 12 ft"),
    ("3-6 1/2", "'3-6 1/2' can be read two ways", "3 ft 6-1/2 in, or 3 to 6-1/2 in?"),
    ("3-6 1/2 in", "can be read two ways", "3 ft 6-1/2 in, or 3 to 6-1/2 in?"),
    ("1,2 m", "'1,2 m' can be read two ways", "1.2 m, or 1 200 m? write a point"),
    ("1,200 mm", "can be read two ways", "1.200 mm, or 1 200 mm?"),
    ("1/2 - 3/4", "can be read as a range", "1/2, or 3/4?"),
    ("1/2-3/4 in", "can be read as a range", "1/2 in, or 3/4 in?"),
    ("18-24 in", "can be read as a range", "18 in, or 24 in?"),
    ("18 in to 24 in", "can be read as a range", "18 in, or 24 in?"),
    ("6 - 1/2 in", "can be read two ways", "write 6-1/2 in for 6 and 1/2"),
    ("3:30", "has a colon", "3 ft 6-1/2 in"),
    ("3 ft 14 in", "has a foot or more in its inches", "4 ft 2 in, or 3 ft 1/4 in?"),
    ("3 ft 13 in", "has a foot or more in its inches", "4 ft 1 in?"),
    ("3'-12\"", "has a foot or more in its inches", "4 ft 0 in, or 3 ft 1/2 in?"),
    ("3 ft 13-1/2 in", "has a foot or more in its inches", "4 ft 1-1/2 in?"),
    ("3' 6", "has no unit after 6", "write 3 ft 6 in"),
    ("3'-6 1/2", "has no unit after 6 1/2", "write 3 ft 6-1/2 in"),
    ("9 ft 61/2", "has more than a whole in its fraction", "30-1/2, or 6-1/2?"),
    ("3 ft 6.in", "cannot be read as a length", "18 in"),
    ("3. ft", "cannot be read as a length", "18 in"),
    ("3.5 ft 6 in", "has a part of a foot before its inches", "whole feet"),
    ("3 1/2 ft 6 in", "has a part of a foot before its inches", "whole feet"),
    ("1/3 in", "has a fraction that is on no tape", "nearest sixteenth is 5/16"),
    ("2-2/3 in", "has a fraction that is on no tape", "nearest sixteenth is 2-11/16"),
    ("⅓ in", "has a fraction that is on no tape", "5/16"),
    ("1/128 in", "has a fraction that is on no tape", "0"),
    ("1 5/4 in", "has more than a whole in its fraction", "2-1/4?"),
    ("5/4 in", "has more than a whole in its fraction", "1-1/4?"),
    ("11/2 in", "has more than a whole in its fraction", "5-1/2, or 1-1/2?"),
    ("113/4 in", "has more than a whole in its fraction", "28-1/4, or 11-3/4?"),
    ("3 ft 61/2 in", "has more than a whole in its fraction", "30-1/2, or 6-1/2?"),
    ("1/0 in", "divides by nothing", "18 in"),
    ('±1/8"', "has a tolerance, which is not taken", "18 in"),
    ("12 in +/- 1/8", "has a tolerance", "18 in"),
    ("+/- 3 mm", "has a tolerance", "18 in"),
    ("~45 ft", "is an estimate written another way", "write about 45 ft"),
    ("approx. 45 ft", "is an estimate written another way", "write about 45 ft"),
    ("42 in AFF", "says what it is measured from", "42 in"),
    ("El. 103.50", "says what it is measured from", "42 in"),
    ("60 psi", "'60 psi' is a pressure where a length belongs", "18 in"),
    ("3 furlongs", "'furlongs' is no unit of a length", "18 in"),
    ("3 Mm", "wrong capitals", "450 mm"),
    ("3 ft 2 ft", "cannot be read as a length", "18 in"),
    ("5 in 3 ft", "cannot be read as a length", "18 in"),
    ("3 6 in", "cannot be read as a length", "18 in"),
    ("--3 in", "cannot be read as a length", "18 in"),
    ("1e400 in", "cannot be read as a length", "18 in"),
    ("9" * 400 + " in", "is too long for a length", "18 in"),
    ("9" * 50 + " in", "is too long for a length", "18 in"),
    ("nan", "has no number", "18 in"),
    ("inf", "has no number", "18 in"),
    ("long", "has no number", "18 in"),
    ("in", "has no number", "18 in"),
    ("", "nothing is written here", "18 in"),
    (" \u00a0 ", "nothing is written here", "18 in"),
    ("about", "nothing is written here", "18 in"),
    (True, "true or false is written here", "18 in"),
    (False, "true or false is written here", "18 in"),
    (None, "nothing is written here", "18 in"),
    (["18 in"], "a list is written here", "18 in"),
    ({"m": 1}, "a group of keys is written here", "18 in"),
    (b"18 in", "something that is no measure", "18 in"),
    (float("nan"), "no number one can measure", "18 in"),
    (float("inf"), "no number one can measure", "18 in"),
    pytest.param(10**5000, "no number one can measure", "18 in", id="five thousand digits"),
)


@pytest.mark.parametrize(("value", "says", "mend"), LENGTHS)
def test_lengths(value: str, says: str, mend: str) -> None:
    with pytest.raises(MeasureError) as refused:
        read_length(value)
    assert says in refused.value.says
    assert mend in refused.value.mend


QUANTITIES = (
    (60, "pressure", "'60' has no unit", "60 psi or 60 bar"),
    ("500", "pressure", "'500' has no unit", "500 psi or 500 kPa"),
    ("60 psia", "pressure", "counts from vacuum", "what the gauge reads"),
    ("5 psid", "pressure", "is a difference", "gauge pressure in psi"),
    ("6 bara", "pressure", "counts from vacuum", "what the gauge reads"),
    ("0.4 mPa", "pressure", "wrong capitals", "414 kPa"),
    ("60-80 psi", "pressure", "can be read as a range", "60 psi, or 80 psi?"),
    ("60 gpm", "pressure", "is a flow where a pressure belongs", "60 psi"),
    ("-20 psi", "pressure", "is less than a pressure can be", "minus"),
    ("2.5", "flow", "has no unit", "2.5 gpm or 2.5 L/min"),
    ("2,5 gpm", "flow", "can be read two ways", "2.5 gpm, or 2 500 gpm?"),
    ("-3 gpm", "flow", "is less than a flow can be", "minus"),
    ("40", "volume", "has no unit", "40 gal or 40 L"),
    ("3 ML", "volume", "wrong capitals", "151 L"),
    ("120 deg", "temperature", "does not say which degrees", "120 degF, or 120 degC?"),
    ("120°", "temperature", "does not say which degrees", "120 degF, or 120 degC?"),
    ("120", "temperature", "has no unit", "120 degF or 120 degC"),
    (0, "temperature", "has no unit", "0 degF or 0 degC"),
    ("300 K", "temperature", "is in kelvin", "120 degF or 49 degC"),
    ("-500 degF", "temperature", "is less than a temperature can be", "minus"),
    ("ΔT 70 F", "temperature", "cannot be read as a temperature", "120 degF"),
    ("40,000 Btu/h", "power", "can be read two ways", "40 000 Btu/h"),
    ("40 MBH", "power", "thousands or millions", "kBtu/h"),
    ("20", "duration", "has no unit", "20 min or 20 h"),
    ("20 m", "duration", "may be minutes or months", "write min"),
    ("3 months", "duration", "no fixed number of days", "days"),
    ("1 h 90 min", "duration", "cannot be read as a duration", "20 min"),
    ("1.5 h 10 min", "duration", "cannot be read as a duration", "20 min"),
    ("6. psi", "pressure", "cannot be read as a pressure", "60 psi"),
    ("12:30", "duration", "has a colon", "20 min"),
    ("~60 psi", "pressure", "is an estimate written another way", "write about 60 psi"),
    ("60 ±5 psi", "pressure", "has a tolerance", "60 psi"),
    ("1/3 gal", "volume", "has a fraction that is not taken", "decimal"),
    ("2 in", "slope", "is a length where a slope belongs", "1/4 in/ft"),
    (True, "load", "true or false", "2.7 wsfu"),
    (-1, "load", "is less than a number of fixture units can be", "minus"),
    (None, "pressure", "nothing is written here", "60 psi"),
    ("60 psi", "weight", "'weight' is no kind of quantity", "pressure, flow"),
)


@pytest.mark.parametrize(("value", "kind", "says", "mend"), QUANTITIES)
def test_quantities(value: str, kind: str, says: str, mend: str) -> None:
    with pytest.raises(MeasureError) as refused:
        read_quantity(value, kind)
    assert says in refused.value.says
    assert mend in refused.value.mend


@pytest.mark.parametrize(
    ("text", "readings"),
    (
        ("3 ft 14 in", ("4 ft 2 in", "3 ft 1/4 in")),
        ("3 ft 13-1/2 in", ("4 ft 1-1/2 in",)),
        ("1/2-3/4 in", ("1/2 in", "3/4 in")),
        ("18-24 in", ("18 in", "24 in")),
        ("1,200 mm", ("1.200 mm", "1 200 mm")),
    ),
)
def test_the_readings_proposed_can_be_read(text: str, readings: tuple[str, ...]) -> None:
    with pytest.raises(MeasureError) as refused:
        read_length(text)
    assert refused.value.mend.split("?")[0] == ", or ".join(readings)
    assert len({read_length(reading).m for reading in readings}) == len(readings)


def test_a_long_text_is_cut_and_a_strange_one_made_visible() -> None:
    with pytest.raises(MeasureError) as refused:
        read_length("x" * 5000)
    assert refused.value.says.startswith(f"'{'x' * 57}...' ")
    with pytest.raises(MeasureError) as refused:
        read_size("3/4\x1b[31m\u200b")
    assert "'3/4\\x1b[31m\\u200b'" in refused.value.says
    with pytest.raises(MeasureError) as refused:
        read_length("~45\x1b ft")
    assert "about 45\\x1b ft" in refused.value.mend


def test_one_error_reads_as_one_sentence() -> None:
    with pytest.raises(MeasureError) as refused:
        read_length("12")
    assert str(refused.value) == "'12' has no unit: 12 could be 12 in or 12 ft: write the unit"
