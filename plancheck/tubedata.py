"""Dimensions of tube that follow from its nominal size: outside diameters and average bores, as data with sources."""

from __future__ import annotations

from plancheck.limits import Source, printed, recalled
from plancheck.measures import Length, Size
from plancheck.model import Tube

_INCH = 0.0254
_SAME_M = 0.0002

# copper tube size: the outside diameter is 1/8 in over the name, the same for copper, PEX and CPVC
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
# PEX of SDR 9: least wall, and how much thicker it may be
PEX_WALL_IN = {
    "3/8": (0.070, 0.010),
    "1/2": (0.070, 0.010),
    "5/8": (0.083, 0.010),
    "3/4": (0.097, 0.010),
    "1": (0.125, 0.013),
    "1-1/4": (0.153, 0.015),
    "1-1/2": (0.181, 0.019),
    "2": (0.236, 0.024),
}
# CPVC of SDR 11: least wall, and how much thicker it may be
CPVC_WALL_IN = {
    "1/2": (0.068, 0.020),
    "3/4": (0.080, 0.020),
    "1": (0.102, 0.020),
    "1-1/4": (0.125, 0.020),
    "1-1/2": (0.148, 0.020),
    "2": (0.193, 0.023),
}
# copper water tube: wall by type
COPPER_WALL_IN = {
    "K": {"3/8": 0.049, "1/2": 0.049, "5/8": 0.049, "3/4": 0.065, "1": 0.065, "1-1/4": 0.065, "1-1/2": 0.072, "2": 0.083},
    "L": {"3/8": 0.035, "1/2": 0.040, "5/8": 0.042, "3/4": 0.045, "1": 0.050, "1-1/4": 0.055, "1-1/2": 0.060, "2": 0.070},
    "M": {"3/8": 0.025, "1/2": 0.028, "5/8": 0.030, "3/4": 0.032, "1": 0.035, "1-1/4": 0.042, "1-1/2": 0.049, "2": 0.058},
}
# PEX-AL-PEX is not of copper tube size: millimetres outside by the name in inches
PEX_AL_OUTSIDE_MM = {"3/8": 12.0, "1/2": 16.0, "5/8": 20.0, "3/4": 25.0, "1": 32.0}

SOURCES: dict[str, Source] = {
    "PEX to 1 in, outside and least wall": printed("ASTM F876", "", "dimensions, as a retailer's sheet prints them"),
    "PEX over 1 in, outside and wall; all tolerances": recalled("ASTM F876", "", "Tables 1 and 2"),
    "copper K and L": printed("ASTM B88", "", "table of dimensions"),
    "copper M": printed("a table of copper tube sizes", "", "inside diameters of type M"),
    "CPVC": printed("ASTM D2846", "", "dimensions, as makers' tables print them"),
    "PEX-AL-PEX": recalled("ASTM F1281", "", "dimensions"),
}

_PEX = frozenset(("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT"))
_OF_COPPER_SIZE = _PEX | {"copper", "CPVC", "polybutylene"}


def tube_outside_m(tube: Tube) -> float | None:
    """The outside diameter of a tube in metres: its own `outside`, else by material and nominal size; None where unknown.

    A name in millimetres (16 mm) is the outside diameter; DN names are not, so they give None, and so do materials that
    come in more than one row of sizes (PE, PVC, steel) under a name in inches.
    """
    if isinstance(tube.outside, Length):
        return tube.outside.m
    size = tube.size
    if not isinstance(size, Size):
        return None
    if size.metric:
        number, _, unit = size.name.partition(" ")
        return float(number) / 1000 if unit == "mm" else None
    if tube.material == "PEX-AL-PEX":
        across = PEX_AL_OUTSIDE_MM.get(size.name)
        return across / 1000 if across is not None else None
    inches = CTS_OUTSIDE_IN.get(size.name) if tube.material in _OF_COPPER_SIZE else None
    return inches * _INCH if inches is not None else None


def tube_bore_m(tube: Tube) -> float | None:
    """The average bore of a tube in metres: outside less twice its wall, stated or by table; None where unknown.

    By table the wall is the least one and half its tolerance. A metric tube says its `wall`, copper its `type` (K, L, M).
    """
    outside_m, wall_m = tube_outside_m(tube), _wall_m(tube)
    if outside_m is None or wall_m is None or wall_m * 2 >= outside_m:
        return None
    return outside_m - 2 * wall_m


def _wall_m(tube: Tube) -> float | None:
    if isinstance(tube.wall, Length):
        return tube.wall.m
    if not isinstance(tube.size, Size) or tube.size.metric or not _as_named(tube):
        return None
    name, said = tube.size.name, (tube.type or "").upper().removeprefix("TYPE ").replace(" ", "")
    if tube.material == "copper":
        inches = COPPER_WALL_IN.get(said, {}).get(name)
        return inches * _INCH if inches is not None else None
    table, ratio = (PEX_WALL_IN, "SDR9") if tube.material in _PEX else (CPVC_WALL_IN, "SDR11")
    found = table.get(name) if tube.material in _PEX or tube.material == "CPVC" else None
    return (found[0] + found[1] / 2) * _INCH if found is not None and said in ("", ratio) else None


def _as_named(tube: Tube) -> bool:
    """Whether the outside diameter is that of the name, so that the tables hold."""
    if not isinstance(tube.outside, Length):
        return True
    by_name = tube_outside_m(tube._replace(outside=None))
    return by_name is not None and abs(by_name - tube.outside.m) <= _SAME_M
