"""Dimensions of tube that follow from its nominal size: outside diameters and average bores, as data with sources."""

from __future__ import annotations

from plancheck.kinds import PEX
from plancheck.measures import Length, Size
from plancheck.model import Tube

_INCH = 0.0254
# copper tube size: outside diameter = nominal + 1/8 in (ASTM B88 for copper, ASTM F876 for PEX, ASTM D2846 for CPVC); read
CTS_OUTSIDE_IN = {
    "1/4": 0.375,
    "3/8": 0.500,
    "1/2": 0.625,
    "5/8": 0.750,
    "3/4": 0.875,
    "1": 1.125,
    "1-1/4": 1.375,
    "1-1/2": 1.625,
    "2": 2.125,
    "2-1/2": 2.625,
    "3": 3.125,
}


def tube_outside_m(tube: Tube) -> float | None:
    """The outside diameter of a tube in metres: its own `outside`, else by its nominal size; None where neither is said.

    A metric name (16 mm) is the outside diameter of metric plastic tube; DN names are not, so they give None.
    """
    if isinstance(tube.outside, Length):
        return tube.outside.m
    if not isinstance(tube.size, Size):
        return None
    if tube.size.metric:
        number, _, unit = tube.size.name.partition(" ")
        return float(number) / 1000 if unit == "mm" and tube.material in PEX else None
    inches = CTS_OUTSIDE_IN.get(tube.size.name)
    return inches * _INCH if inches is not None else None
