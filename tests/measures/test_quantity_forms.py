"""Every way a plumber writes a quantity, against arithmetic on exact definitions.

1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2, 1 in = 25.4 mm, 1 US gal = 231 in3, 1 imperial gal = 4.54609 L,
1 Btu (International Table) = 1055.05585262 J: NIST Special Publication 811, 2008, appendix B (from memory).
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from plancheck.measures import KINDS, Quantity, read_quantity

INCH = Fraction(254, 10000)
FOOT = 12 * INCH
POUND = Fraction(45359237, 10**8)
GRAVITY = Fraction(980665, 10**5)
PSI = POUND * GRAVITY / INCH**2
GALLON = 231 * INCH**3
IMPERIAL_GALLON = Fraction(454609, 10**8)
LITRE = Fraction(1, 1000)
BTU = Fraction(105505585262, 10**8)
FEET_OF_WATER = Fraction(62366, 1000) / 144 * PSI  # 62.366 lb/ft3 at 60 degF
METRE_OF_WATER = FEET_OF_WATER / FOOT
MINUTE, HOUR, DAY = 60, 3600, 86400

FORMS = {
    ("pressure", 60 * PSI): "60 psi|60 psig|60 PSI|60 Psi|60psi|60 lb|60 lbs|60#|60 #|60.0 psi|60 psi.|60-psi",
    ("pressure", Fraction(414000)): "414 kPa|414 KPA|4.14 bar|4.14 BAR|0.414 MPa|414 kPag|4.14 barg",
    (
        "pressure",
        140 * FEET_OF_WATER,
    ): "140 ft hd|140 ft. hd.|140 ft of water|140 ft H2O|140 ft H₂O|140 ft of head|140 feet of water",
    ("pressure", 42 * METRE_OF_WATER): "42 mH2O|42 m of water|42 m H2O",
    ("pressure", -5 * PSI): "-5 psi|−5 psi",
    (
        "flow",
        Fraction(5, 2) * GALLON / MINUTE,
    ): "2.5 gpm|2.5 GPM|2-1/2 gpm|2½ gpm|2.5 US gpm|2.5 U.S. gpm|2.5 gal/min|2.5 US gal/min"
    "|2.5 gallons per minute|150 gph|2.5 gal / min",
    (
        "flow",
        Fraction(16, 100) * LITRE,
    ): "0.16 L/s|0.16 l/s|.16 L/s|9.6 L/min|9.6 lpm|9.6 LPM|0.576 m3/h|0.576 m³/h|9.6 litres per minute",
    ("flow", 2 * IMPERIAL_GALLON / MINUTE): "2 imp gpm|2 imperial gpm|2 imp. gal/min|2 Imp GPM",
    ("volume", 40 * GALLON): "40 gal|40 gal.|40 US gal|40 gallons|40 Gal|40-gal",
    ("volume", Fraction(1, 2) * GALLON): "0.5 gal|1/2 gal|64 oz|64 fl oz|64 fl. oz.|2 qt",
    ("volume", 151 * LITRE): "151 L|151 l|151 litres|151 liters|151 litre|151000 ml|151 000 mL|0.151 m3|0.151 m³",
    ("volume", 40 * IMPERIAL_GALLON): "40 imp gal|40 imperial gallons",
    ("volume", Fraction(128, 100) * GALLON): "1.28 gal|1.28 gpf",
    (
        "temperature",
        Fraction(120 - 32) / Fraction(9, 5),
    ): "120 degF|120F|120 F|120 °F|120°F|120ºF|120 deg F|120 degrees F|120 deg. F|120℉",
    ("temperature", Fraction(49)): "49 degC|49C|49 °C|49 c|49 Celsius|49℃",
    ("temperature", Fraction(-40)): "-40 degF|-40 degC|−40 °F",
    ("temperature", Fraction(0)): "32 degF|0 degC",
    ("speed", 8 * FOOT): "8 ft/s|8 fps|8 FPS|8 ft/sec|8 ft per second|480 ft/min",
    ("speed", Fraction(24, 10)): "2.4 m/s|144 m/min",
    ("power", 40000 * BTU / HOUR): "40000 Btu/h|40000 BTU/hr|40000 Btuh|40 kBtu/h|40 000 BTU/h|40000 btu per hour",
    ("power", Fraction(4500)): "4500 W|4.5 kW|4.5 KW|4 500 watts|16.2 MJ/h",
    ("duration", Fraction(20 * MINUTE)): "20 min|20 mins|20 minutes|20 Min.|1200 s|1200 sec",
    ("duration", Fraction(2 * HOUR)): "2 h|2 hr|2 hours|2 hrs|120 min",
    ("duration", Fraction(90 * MINUTE)): "1.5 h|1-1/2 hours|1 h 30 min|1h30min",
    ("duration", Fraction(3 * DAY)): "3 days|3 d|72 h",
    ("head", 140 * FOOT): "140 ft|140 feet|140'|140 ft of water|140 ft hd",
    ("head", Fraction(42)): "42 m|42 mH2O|42 m of water",
    ("difference", Fraction(70) / Fraction(9, 5)): "ΔT 70 F|70 degF|70 °F|dT 70 F",
    ("difference", Fraction(20)): "20 K|20 degC",
    ("load", Fraction(27, 10)): "2.7 wsfu|WSFU 2.7|2.7 WSFU|2.7 fu|2.7 fixture units|2.7",
    ("slope", Fraction(1, 48)): '1/4 in/ft|1/4 in per ft|1/4" per ft|1/4"/ft|¼ in. per foot',
    ("slope", Fraction(2, 100)): "2 %|2%|2 percent|20 mm/m|2 cm/m",
    ("angle", Fraction(1, 4)): "45°|45 deg|45 degrees",  # of pi
}


@pytest.mark.parametrize(
    ("kind", "expected", "text"), [(kind, si, text) for (kind, si), many in FORMS.items() for text in many.split("|")]
)
def test_forms(kind: str, expected: Fraction, text: str) -> None:
    found = read_quantity(text, kind)
    expected_si = float(expected) * (math.pi if kind == "angle" else 1)
    assert found.si == pytest.approx(expected_si, rel=1e-12, abs=1e-12)
    assert found == Quantity(found.si, kind, text, about=False)


def test_every_kind_has_forms() -> None:
    assert {kind for kind, _ in FORMS} == set(KINDS)


@pytest.mark.parametrize(
    ("text", "kind", "published", "tolerance"),
    (
        ("1 psi", "pressure", 6894.757293168, 1e-9),  # to the figures printed
        ("1 bar", "pressure", 1 / 0.06894757 * 6894.757, 1e-3),
        ("1 gpm", "flow", 0.0630902e-3, 1e-10),
        ("1 gpm", "flow", 3.785412e-3 / 60, 1e-11),
        ("1 imp gal", "volume", 4.54609e-3, 1e-12),
        ("1 ft of water", "pressure", 0.433 * 6894.757, 0.0005 * 6894.757),
        ("2.31 ft of water", "pressure", 6894.757, 0.005 * 6894.757),
        ("1 Btu/h", "power", 0.29307107, 5e-9),
        ("212 degF", "temperature", 100.0, 1e-12),
    ),
)
def test_conversions_as_printed(text: str, kind: str, published: float, tolerance: float) -> None:
    assert read_quantity(text, kind).si == pytest.approx(published, abs=tolerance)


def test_an_estimate() -> None:
    found = read_quantity("about 60 psi", "pressure")
    assert found == read_quantity("60 psi", "pressure")._replace(text="about 60 psi", about=True)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "temperature"])
@pytest.mark.parametrize("zero", (0, 0.0, "0", "0.0", "-0"))
def test_zero_needs_no_unit(kind: str, zero: str | float) -> None:
    assert str(read_quantity(zero, kind).si) == "0.0"


def test_a_count_of_fixture_units_may_stand_alone() -> None:
    assert read_quantity(2.7, "load") == Quantity(2.7, "load", "2.7")
    assert read_quantity(8, "load").si == 8.0
