"""What holds for every measure: it can be written and read back, and no text does worse than be refused."""

from __future__ import annotations

import string
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from plancheck.measures import (
    KINDS,
    METRIC,
    US,
    MeasureError,
    read_length,
    read_quantity,
    read_size,
    read_sizes,
    show_length,
    show_quantity,
    unit_system,
    write_length,
    write_quantity,
)

SYSTEMS = (
    US,
    METRIC,
    METRIC._replace(length="m", pressure="kPa", flow="L/min"),
    US._replace(pressure="bar", temperature="degC", power="kW", speed="m/s", volume="L"),
)
# Of each kind, the range to try, and half of the last digit printed in the coarsest of its units, in SI.
RANGES = {
    "pressure": (-1e5, 1e7, 500.0),
    "flow": (0.0, 1.0, 0.05e-3 / 60),
    "volume": (0.0, 100.0, 0.005 * 3.8e-3),
    "temperature": (-273.0, 500.0, 0.05),
    "speed": (0.0, 100.0, 0.005),
    "power": (0.0, 1e6, 5.0),
    "duration": (0.0, 1e8, 0.05),
    "head": (-1e3, 1e3, 0.05 * 0.3048),
    "difference": (-200.0, 200.0, 0.05),
    "load": (0.0, 1e4, 0.005),
    "slope": (-1.0, 1.0, 0.00005),
    "angle": (-7.0, 7.0, 0.05 * 0.01746),
}
# A value is printed to three digits or better, so to half a hundredth of itself at worst.
THREE_DIGITS = 0.005001
VALID = (
    "3'-6 1/2\"",
    "3 ft 6-1/2 in",
    "1½ in",
    "-0'-6\"",
    "1 200 mm",
    "32 in o.c.",
    "about 45 ft",
    "2.5 US gpm",
    "140 ft H2O",
    "120 °F",
    "0.6 m³/h",
    "1 h 30 min",
    "DN20",
    "1/4 in per ft",
    "3/4 x 3/4 x 1/2",
)
# A busy machine is no reason to fail.
UNHURRIED = settings(deadline=None)
MORE = settings(deadline=None, max_examples=600)

systems = st.sampled_from(SYSTEMS)
lengths_m = st.floats(-1e6, 1e6, allow_subnormal=False) | st.integers(-10000, 10000).map(lambda n: n * 0.0254 / 16)


@st.composite
def quantities(draw: st.DrawFn) -> tuple[str, float]:
    kind = draw(st.sampled_from(KINDS))
    low, high, _ = RANGES[kind]
    return kind, draw(st.floats(low, high, allow_subnormal=False))


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """A good measure with a few characters changed, put in or taken out."""
    characters = list(draw(st.sampled_from(VALID)))
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(characters)))
        characters[at : at + draw(st.integers(0, 2))] = draw(
            st.text("0123456789-/.,'\" xinftmpsg½\u2033\u00a0±~#", max_size=2)
        )
    return "".join(characters)


texts = (
    st.text()
    | st.text(string.digits + " -/.,:'\"½¼\u2032\u2033\u2044+±~#%°@xX" + "inftmcpsigalLbrDNAFCKhd", max_size=30)
    | st.from_regex(
        r"(about |max )?-?[0-9]{1,20}[ -]?([0-9]{1,3}/[0-9]{1,3})? ?(in|ft|'|\"|mm|m|psi|gpm|)", fullmatch=True
    )
    | damaged()
)


@UNHURRIED
@given(lengths_m, systems)
def test_a_length_written_reads_as_itself(m: float, units: Any) -> None:
    assert read_length(write_length(m, units)).m == pytest.approx(m, rel=1e-9, abs=1e-30)


@UNHURRIED
@given(quantities(), systems)
@example(("pressure", -101325.0), US)
@example(("temperature", -273.15), US)
def test_a_quantity_written_reads_as_itself(quantity: tuple[str, float], units: Any) -> None:
    kind, si = quantity
    smallest = 1e-9 if kind == "temperature" else 1e-30
    assert read_quantity(write_quantity(si, kind, units), kind).si == pytest.approx(si, rel=1e-9, abs=smallest)


@UNHURRIED
@given(lengths_m, systems, st.booleans())
def test_a_length_shown_reads_within_its_rounding(m: float, units: Any, exact: bool) -> None:
    found = read_length(show_length(m, units, exact)).m
    if exact:
        half = 0.0005 * 0.0254 if units.length == "ft-in" else 0.00005
    elif units.length == "ft-in":
        half = 0.0254 / 32
    else:
        half = 0.0005 if abs(m) < 0.999 else 0.005 if abs(m) < 9.99 else 0.05
    assert found == pytest.approx(m, rel=1e-12, abs=half * 1.000001)


@UNHURRIED
@given(quantities(), systems)
def test_a_quantity_shown_reads_within_its_rounding(quantity: tuple[str, float], units: Any) -> None:
    kind, si = quantity
    shown = show_quantity(si, kind, units)
    half = RANGES[kind][2]
    if kind == "power" and units.power == "Btu/h":
        half = 0.5 * 0.29308
    assert read_quantity(shown.replace("-0 ", "0 "), kind).si == pytest.approx(si, rel=THREE_DIGITS, abs=half * 1.0001)
    assert "e" not in shown.split()[0]
    assert "." not in shown.split()[0] or not shown.split()[0].endswith("0")


VULGAR = {2: "⅛", 4: "¼", 6: "⅜", 8: "½", 10: "⅝", 12: "¾", 14: "⅞"}


def tape_spellings(sixteenths: int) -> list[str]:
    """A number of sixteenths of an inch, as many ways as a tape is read."""
    feet, rest = divmod(sixteenths, 192)
    inches, part = divmod(rest, 16)
    reduced = Fraction(part, 16)
    fractions = [f"-{reduced}", f" {reduced}", f" {part}/16", f"-{2 * part}/32", f" {reduced}".replace("/", "\u2044")]
    if part in VULGAR:
        fractions += [VULGAR[part], f" {VULGAR[part]}"]
    mixed = [f"{inches}{fraction}" for fraction in fractions] if part else [str(inches)]
    mixed.append(f"{inches + part / 16}")
    joints = (
        ("{} ft {} in"),
        ("{}'-{}\""),
        ("{}' - {}\""),
        ("{}′{}″"),
        ("{} feet {} inches"),
        ("{}ft{}in"),
        ("{}’ {}''"),
    )
    spelt = [joint.format(feet, inch) for joint in joints for inch in mixed]
    if part == 0:
        spelt.append(f"{sixteenths // 16} in")
    if rest == 0:
        spelt += [f"{feet} ft", f"{feet}'"]
    return [*spelt, f"{sixteenths / 16} in", f'{sixteenths / 16}"']


@UNHURRIED
@given(st.integers(0, 192 * 400))
def test_every_mark_of_a_tape_in_every_spelling(sixteenths: int) -> None:
    expected = float(Fraction(sixteenths, 16) * Fraction(254, 10000))
    for text in tape_spellings(sixteenths):
        assert read_length(text).m == pytest.approx(expected, rel=1e-12, abs=1e-12), text
        assert read_length(f"-{text}").m == pytest.approx(-expected, rel=1e-12, abs=1e-12), text


def refused_or_read(value: Any) -> None:
    for read in (read_length, read_size, read_sizes, *[lambda v, k=kind: read_quantity(v, k) for kind in KINDS]):
        try:
            read(value)
        except MeasureError as refusal:
            assert refusal.says
            assert refusal.mend
            assert str(refusal).isprintable()
            assert len(refusal.says) < 250
            assert len(refusal.mend) < 250


@MORE
@given(texts)
def test_no_text_does_worse_than_be_refused(text: str) -> None:
    refused_or_read(text)
    assert len(unit_system([text])) == len(US)


@UNHURRIED
@given(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.binary()
    | st.lists(st.text(), max_size=2)
    | st.dictionaries(st.text(), st.integers(), max_size=2)
    | st.dates()
    | st.complex_numbers()
    | st.decimals()
)
@example(10**5000)
@example("9" * 400)
@example(" " * 10_000 + "18 in")
@example("1/" * 5000)
@example("\ud800")
def test_no_value_does_worse_than_be_refused(value: Any) -> None:
    refused_or_read(value)


@UNHURRIED
@given(damaged())
def test_reading_again_gives_the_same(text: str) -> None:
    """The second reading comes from memory."""
    for read in (read_length, read_size):
        try:
            first = read(text)
        except MeasureError:
            continue
        assert read(text) == first
        assert first.text == text.strip()
