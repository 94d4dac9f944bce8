"""Prints measures: rounded for reading, or with every digit a plan file needs."""

from __future__ import annotations

import math

from plancheck.measures.kinds import KINDS, MeasureError
from plancheck.measures.quantities import DEGF_PER_K, FREEZING_DEGF, LEAST_SI
from plancheck.measures.systems import US, Units
from plancheck.measures.units import (
    BTU_J,
    DEGREE_RAD,
    FOOT_M,
    GALLON_M3,
    INCH_M,
    LITRE_M3,
    PSI_PA,
)

# Of each printed unit: its worth in SI, and the decimals that make sense at most.
_PRINTED = {
    "psi": (PSI_PA, 1),
    "kPa": (1e3, 1),
    "bar": (1e5, 2),
    "gpm": (GALLON_M3 / 60, 2),
    "L/s": (LITRE_M3, 3),
    "L/min": (LITRE_M3 / 60, 1),
    "gal": (GALLON_M3, 2),
    "L": (LITRE_M3, 2),
    "ft/s": (FOOT_M, 2),
    "m/s": (1.0, 2),
    "Btu/h": (BTU_J / 3600, 0),
    "kW": (1e3, 2),
    "s": (1.0, 1),
    "min": (60.0, 2),
    "h": (3600.0, 2),
    "days": (86400.0, 2),
    "ft": (FOOT_M, 1),
    "m": (1.0, 2),
    "wsfu": (1.0, 2),
    "in/ft": (INCH_M / FOOT_M, 3),
    "%": (1e-2, 2),
    "deg": (DEGREE_RAD, 1),
}
_ONE_UNIT = {"load": "wsfu", "angle": "deg"}
_LENGTH_OF = {"head": ("ft", "m"), "slope": ("in/ft", "%")}
_LONGEST_DURATIONS_S = ((120.0, "s"), (7200.0, "min"), (172800.0, "h"))
_LARGEST = 1e9  # SI units of any kind; more was not measured in a house
_DIGITS_SHOWN = 3
_DIGITS_WRITTEN = 15
_DECIMALS_WRITTEN = 60
_INCHES_ALONE = 24  # a tape is read in inches up to here


def show_length(m: float, units: Units, exact: bool = False) -> str:
    """m metres as one reads them off a tape: 18 in, 3 ft 6-1/2 in, to 1/16 in; or 813 mm, 12.4 m.

    In metric, mm below 2 m (below 1 m where the plan is written in m), then m to 0.01 below 10 m and to 0.1 above.
    exact: decimals to 0.001 in or 0.1 mm instead, to tell apart two lengths that a tape does not.
    """
    _check(m)
    if units.length == US.length:
        return f"{_rounded(m / INCH_M, 3)} in" if exact else _feet_inches(round(m / INCH_M * 16), 16)
    if exact:
        return f"{_rounded(m * 1e3, 1)} mm"
    millimetres = round(m * 1e3)
    if abs(millimetres) < (1000 if units.length == "m" else 2000):
        return f"{millimetres} mm"
    return f"{m:.2f} m" if abs(round(m, 2)) < 10 else f"{m:.1f} m"


def show_quantity(si: float, kind: str, units: Units) -> str:
    """si (in the unit of its kind, see Quantity) as one reads it off a gauge: 60 psi, 4.14 bar, 2.5 gpm, 120 degF, 40 gal.

    About three digits, never fewer than the whole number has, without zeros at the end.
    """
    _check(si, kind)
    if kind in ("temperature", "difference"):
        return f"{_rounded(_degrees(si, kind, units), 1)} {units.temperature}"
    unit = _unit(si, kind, units)
    factor, most = _PRINTED[unit]
    value = si / factor
    return f"{_rounded(value, min(most, _decimals(value, _DIGITS_SHOWN)))} {unit}"


def write_length(m: float, units: Units) -> str:
    """m metres with every digit it needs: read_length gives the same value within 1e-9 of it."""
    _check(m)
    if units.length != US.length:
        return f"{_digits(m)} m" if units.length == "m" else f"{_digits(m * 1e3)} mm"
    inches = m / INCH_M
    marks = round(inches * 64)
    if abs(marks / 64 - inches) <= 1e-12 * abs(inches):
        return _feet_inches(marks, 64)
    return f"{_digits(inches)} in"


def write_quantity(si: float, kind: str, units: Units) -> str:
    """si with every digit it needs: read_quantity gives the same value within 1e-9 of it (a temperature within 1e-9 degC).

    Raises MeasureError where si is less than its kind can be.
    """
    _check(si, kind)
    if si < LEAST_SI.get(kind, si):
        raise MeasureError(f"{si:g} is less than any {kind} can be", "look at the number again")
    if kind in ("temperature", "difference"):
        return f"{_digits(_degrees(si, kind, units))} {units.temperature}"
    unit = _unit(si, kind, units)
    return f"{_digits(si / _PRINTED[unit][0])} {unit}"


def _check(si: float, kind: str | None = None) -> None:
    if not isinstance(si, (int, float)) or not abs(si) <= _LARGEST:
        raise MeasureError("this is no number one can measure", "look at what it was computed from")
    if kind is not None and kind not in KINDS:
        raise MeasureError("this is no kind of quantity", f"use one of {', '.join(KINDS)}")


def _unit(si: float, kind: str, units: Units) -> str:
    if kind in _ONE_UNIT:
        return _ONE_UNIT[kind]
    if kind == "duration":
        return next((unit for below_s, unit in _LONGEST_DURATIONS_S if abs(si) < below_s), "days")
    if kind in _LENGTH_OF:
        us_unit, metric_unit = _LENGTH_OF[kind]
        return us_unit if units.length == US.length else metric_unit
    return str(getattr(units, kind))


def _degrees(si: float, kind: str, units: Units) -> float:
    if units.temperature != US.temperature:
        return si
    return si * DEGF_PER_K + (FREEZING_DEGF if kind == "temperature" else 0.0)


def _feet_inches(marks: int, marks_an_inch: int) -> str:
    sign, marks = ("-" if marks < 0 else ""), abs(marks)
    feet, marks = divmod(marks, 12 * marks_an_inch) if marks >= _INCHES_ALONE * marks_an_inch else (0, marks)
    words = [f"{feet} ft"] if feet else []
    if marks or not feet:
        words.append(f"{_mixed(marks, marks_an_inch)} in")
    return sign + " ".join(words)


def _mixed(marks: int, marks_an_inch: int) -> str:
    whole, top = divmod(marks, marks_an_inch)
    if not top:
        return str(whole)
    common = math.gcd(top, marks_an_inch)
    part = f"{top // common}/{marks_an_inch // common}"
    return f"{whole}-{part}" if whole else part


def _rounded(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _digits(value: float) -> str:
    """value in plain decimals, no exponent."""
    return _rounded(value, min(_DECIMALS_WRITTEN, _decimals(value, _DIGITS_WRITTEN)))


def _decimals(value: float, digits: int) -> int:
    """How many decimals give value this many digits, all digits before the point included."""
    return max(0, digits - 1 - math.floor(math.log10(abs(value)))) if value else 0
