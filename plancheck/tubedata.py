"""Dimensions of tube that follow from its nominal size: outside diameters and average bores, as data with sources."""

from __future__ import annotations

from plancheck.limits import Source, printed, recalled
from plancheck.measures import Length, Size
from plancheck.model import Run, Tube

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
# steel pipe of schedule 40: outside and wall; the bore is that of new pipe, which rust narrows in the course of years
STEEL_IN = {
    "1/4": (0.540, 0.088),
    "3/8": (0.675, 0.091),
    "1/2": (0.840, 0.109),
    "3/4": (1.050, 0.113),
    "1": (1.315, 0.133),
    "1-1/4": (1.660, 0.140),
    "1-1/2": (1.900, 0.145),
    "2": (2.375, 0.154),
    "2-1/2": (2.875, 0.203),
    "3": (3.500, 0.216),
}
STEEL_ROUGH_M = 0.00015  # galvanised iron, 0.0005 ft
# PEX-AL-PEX is not of copper tube size: millimetres outside by the name in inches
PEX_AL_OUTSIDE_MM = {"3/8": 12.0, "1/2": 16.0, "5/8": 20.0, "3/4": 25.0, "1": 32.0}

SOURCES: dict[str, Source] = {
    "PEX to 1 in, outside and least wall": printed("ASTM F876", "", "dimensions, as a retailer's sheet prints them"),
    "PEX over 1 in, outside and wall; all tolerances": recalled("ASTM F876", "", "Tables 1 and 2"),
    "copper K and L": printed("ASTM B88", "", "table of dimensions"),
    "copper M": printed("a table of copper tube sizes", "", "inside diameters of type M"),
    "CPVC": printed("ASTM D2846", "", "dimensions, as makers' tables print them"),
    "PEX-AL-PEX": recalled("ASTM F1281", "", "dimensions"),
    "steel pipe of schedule 40": recalled("ASME B36.10 and ASTM A53", "", "dimensions of schedule 40"),
    "roughness of galvanised steel": recalled("a textbook table of surfaces", "", "galvanised iron"),
}

_PEX = frozenset(("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT"))
_STEEL = "galvanised steel"
_SCHEDULE_40 = ("", "40", "SCH40", "SCHEDULE40", "STD", "STANDARD")
_OF_COPPER_SIZE = _PEX | {"copper", "CPVC", "polybutylene"}


def tube_outside_m(tube: Tube) -> float | None:
    """The outside diameter of a tube in metres: its own `outside`, else by material and nominal size; None where unknown.

    A name in millimetres (16 mm) is the outside diameter; DN names are not, so they give None, and so do materials that
    come in more than one row of sizes (PE, PVC, stainless steel) under a name in inches.
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
    if tube.material == _STEEL:
        return STEEL_IN[size.name][0] * _INCH if size.name in STEEL_IN else None
    inches = CTS_OUTSIDE_IN.get(size.name) if tube.material in _OF_COPPER_SIZE else None
    return inches * _INCH if inches is not None else None


def tube_bore_m(tube: Tube) -> float | None:
    """The average bore of a tube in metres: outside less twice its wall, stated or by table; None where unknown.

    By table the wall is the least one and half its tolerance. A metric tube says its `wall`, copper its `type` (K, L, M).
    Galvanised steel without a `type` is of schedule 40, as wide as when it was new (see narrowed_by_rust).
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
    if tube.material == _STEEL:
        return STEEL_IN[name][1] * _INCH if name in STEEL_IN and said in _SCHEDULE_40 else None
    table, ratio = (PEX_WALL_IN, "SDR9") if tube.material in _PEX else (CPVC_WALL_IN, "SDR11")
    found = table.get(name) if tube.material in _PEX or tube.material == "CPVC" else None
    return (found[0] + found[1] / 2) * _INCH if found is not None and said in ("", ratio) else None


def narrowed_by_rust(run: Run, tube: Tube | None) -> str:
    """What the bore of an old steel pipe is as, in words, where nothing but its name tells it; else an empty text."""
    if tube is None or tube.material != _STEEL or run.work != "existing" or isinstance(tube.wall, Length):
        return ""
    return f"{run.id} as wide as when new though rust narrows old steel pipe"


def _as_named(tube: Tube) -> bool:
    """Whether the outside diameter is that of the name, so that the tables hold."""
    if not isinstance(tube.outside, Length):
        return True
    by_name = tube_outside_m(tube._replace(outside=None))
    return by_name is not None and abs(by_name - tube.outside.m) <= _SAME_M
