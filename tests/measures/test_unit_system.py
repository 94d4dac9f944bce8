"""Which units a plan is written in."""

from __future__ import annotations

import pytest

from plancheck.measures import METRIC, US, Units, unit_system


@pytest.mark.parametrize(
    ("texts", "expected"),
    (
        ([], US),
        (["copper", "3/4", "0", "", "crew 2"], US),
        (["18 in", "3 ft 6-1/2 in", "60 psi"], US),
        (["about 45 ft", "32 in o.c.", "16 mm"], US),
        (["450 mm", "16 mm", "1.2 m", "about 900 mm"], METRIC),
        (["2.4 m", "1.2 m", "16 mm"], METRIC._replace(length="m")),
        (["450 mm", "414 kPa", "9.5 L/min"], METRIC._replace(pressure="kPa", flow="L/min")),
        (["450 mm", "0.4 MPa", "0.6 m³/h"], METRIC._replace(pressure="kPa")),
        (["414 kPa"], METRIC._replace(pressure="kPa")),
        (["18 in", "4.1 bar"], US._replace(pressure="bar")),
        (["450 mm", "60 psi", "120F"], METRIC._replace(pressure="psi", temperature="degF")),
        (["18 in", "49 degC", "40 gal", "8 ft/s", "11 kW"], US._replace(temperature="degC", power="kW")),
        (["140 ft hd", "2 imp gpm"], US),
        (["1 in", "25 mm"], US),
        (["2.4 m/s", "151 L"], METRIC),
    ),
)
def test_unit_system(texts: list[str], expected: Units) -> None:
    assert unit_system(texts) == expected


def test_texts_that_are_no_texts_do_not_count() -> None:
    assert unit_system([None, 3, "450 mm", "x" * 5000, "\x00"]) == METRIC  # type: ignore[list-item]


def test_any_iterable_will_do() -> None:
    assert unit_system(text for text in ("450 mm",)) == METRIC
