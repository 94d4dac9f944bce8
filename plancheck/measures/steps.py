"""Computed figures in steps that one works to: what a finding asks for, rounded to the safe side, in SI."""

from __future__ import annotations

import math

from plancheck.measures.systems import Units
from plancheck.measures.units import BTU_J, FOOT_M, GALLON_M3, INCH_M, LITRE_M3, PSI_PA

# by printed unit, in SI
_STEPS = {
    "ft-in": FOOT_M,
    "m": 0.1,
    "mm": 0.1,
    "gpm": 0.1 * GALLON_M3 / 60,
    "L/s": 0.01 * LITRE_M3,
    "L/min": 0.1 * LITRE_M3 / 60,
    "psi": PSI_PA,
    "kPa": 5e3,
    "bar": 0.05e5,
    "Btu/h": 1000 * BTU_J / 3600,
    "kW": 500.0,
}
_SMALL = {"ft-in": INCH_M, "m": 0.01, "mm": 0.01}  # the step of a length below two of the others
_SAME = 1e-6  # of a step: so little over a step is on it


def stepped_up(si: float, kind: str, units: Units) -> float:
    """The least whole number of steps of the kind's unit (length, flow, pressure, power) that is no less, in SI."""
    step = _step(si, kind, units)
    return math.ceil(si / step - _SAME) * step


def stepped_down(si: float, kind: str, units: Units) -> float:
    """The greatest whole number of steps of the kind's unit that is no more, in SI."""
    step = _step(si, kind, units)
    return math.floor(si / step + _SAME) * step


def _step(si: float, kind: str, units: Units) -> float:
    unit = str(getattr(units, kind))
    step = _STEPS[unit]
    return _SMALL[unit] if unit in _SMALL and si < 2 * step * (1 - _SAME) else step
