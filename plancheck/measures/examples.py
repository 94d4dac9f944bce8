"""How each kind of measure is written, and which readings a bare number may have, for messages."""

from __future__ import annotations

EXAMPLES = {
    "length": "18 in, 3 ft 6-1/2 in, 450 mm or 1.2 m",
    "size": "3/4, 1-1/4, 16 mm or DN20",
    "pressure": "60 psi, 4.1 bar or 414 kPa",
    "flow": "2.5 gpm, 0.16 L/s or 9.5 L/min",
    "volume": "40 gal or 151 L",
    "temperature": "120 degF or 49 degC",
    "difference": "70 degF or 39 degC",
    "speed": "8 ft/s or 2.4 m/s",
    "power": "40000 Btu/h or 11.7 kW",
    "duration": "20 min or 2 h",
    "head": "140 ft or 42 m",
    "load": "2.7 wsfu",
    "slope": "1/4 in/ft or 2 %",
    "angle": "45 deg",
}
NAMES = {
    "difference": "difference of temperature",
    "load": "number of fixture units",
    "size": "nominal size",
}
_READINGS = {
    "length": ("in", "ft"),
    "pressure": ("psi", "bar"),
    "flow": ("gpm", "L/min"),
    "volume": ("gal", "L"),
    "temperature": ("degF", "degC"),
    "difference": ("degF", "degC"),
    "speed": ("ft/s", "m/s"),
    "power": ("Btu/h", "kW"),
    "duration": ("min", "h"),
    "head": ("ft", "m"),
    "load": ("wsfu", "wsfu"),
    "slope": ("in/ft", "%"),
    "angle": ("deg", "deg"),
}
_LARGE = 100.0  # from here on a bare number is rather the finer metric unit
_LARGE_READINGS = {"length": ("in", "mm"), "pressure": ("psi", "kPa"), "power": ("Btu/h", "W")}


def readings(number: str, value: float, kind: str) -> str:
    """What a number without a unit may mean: "12 in or 12 ft"."""
    first, second = _LARGE_READINGS.get(kind, _READINGS[kind]) if value >= _LARGE else _READINGS[kind]
    return f"{number} {first}" if first == second else f"{number} {first} or {number} {second}"


def named(kind: str) -> str:
    """kind with its article, as a sentence needs it: a pressure, an angle."""
    name = NAMES.get(kind, kind)
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"
