"""SI figures into the plan's own units: as a number with a unit for machines, and in words for people."""

from __future__ import annotations

from plancheck.limits import Amended, InForce
from plancheck.measures import Units, show_length, show_quantity
from plancheck.measures.units import BTU_J, FOOT_M, GALLON_M3, GPM_M3S, INCH_M, PSI_PA
from plancheck.outcomes import Measured
from plancheck.report.data import Figure, LimitShown

_FACTORS = {  # unit -> (SI value of one unit, decimals)
    "in": (INCH_M, 3),
    "mm": (0.001, 1),
    "psi": (PSI_PA, 2),
    "kPa": (1000.0, 1),
    "bar": (100000.0, 3),
    "gpm": (GPM_M3S, 3),
    "L/s": (0.001, 4),
    "L/min": (0.001 / 60, 2),
    "ft/s": (FOOT_M, 2),
    "m/s": (1.0, 3),
    "gal": (GALLON_M3, 3),
    "L": (0.001, 2),
    "Btu/h": (BTU_J / 3600, 0),
    "kW": (1000.0, 3),
}


def figure(measured: Measured, units: Units) -> Figure:
    """A measured figure in the plan's units."""
    value, unit = _number(measured.value, measured.unit, units)
    return Figure(value, unit, _words(measured.value, measured.unit, units))


def limit_shown(limit: InForce, units: Units) -> LimitShown:
    """A limit in the plan's units, with its source."""
    value, unit = _number(limit.value, limit.limit.unit, units)
    words = _words(limit.value, limit.limit.unit, units)
    source = " ".join(part for part in (limit.source.document, limit.source.edition) if part) or limit.source.read
    shown = LimitShown(limit.limit.id, value, unit, words, source, limit.source.clause, limit.source.read)
    return shown if limit.amended is None else _with_amendment(shown, limit, limit.amended, units)


def _with_amendment(shown: LimitShown, limit: InForce, amended: Amended, units: Units) -> LimitShown:
    instead = ""
    if limit.instead is not None:
        value = _words(limit.instead.value, limit.limit.unit, units)
        instead = f"{value}, {limit.instead.source.named or 'common practice'}"
    by = f" by {amended.source.named}" if amended.value is None else ""
    severity = f"{amended.severity} here{by}" if amended.severity is not None else ""
    off = f"switched off{by}" if amended.off else ""
    said = f"instead of {instead}" if instead else ""
    asked = f"'{amended.value}'" if isinstance(amended.value, str) else ""  # the rule's own words ask otherwise
    words = ", ".join(filter(None, (asked, said, severity, off, f"because {amended.because}")))
    return shown._replace(authority=amended.source.document, because=amended.because, instead=instead, amended=words)


def told_apart(measured: Measured | None, limit: InForce | None, units: Units) -> tuple[str, str]:
    """A measured figure and what its limit needs, in words; lengths with as many digits as tell one from the other."""
    found = _words(measured.value, measured.unit, units) if measured is not None else ""
    if limit is None:
        return found, ""
    needed = limit.text or _words(limit.value, limit.limit.unit, units)
    lengths = measured is not None and measured.unit == limit.limit.unit == "length"
    if measured is not None and lengths and not isinstance(measured.value, str) and not isinstance(limit.value, str):
        found, needed, _ = limit.told_apart(measured.value, units)
    return found, f"{limit.limit.sense} {needed}"


def _number(value: float | str, kind: str, units: Units) -> tuple[float | str, str]:
    if isinstance(value, str):
        return value, "text"
    if kind == "length":
        return _scaled(value, "in" if units.length == "ft-in" else "mm")
    if kind in ("pressure", "flow", "speed", "volume", "power"):
        return _scaled(value, getattr(units, kind))
    if kind == "difference":
        return (round(value * 1.8, 1), "degF") if units.temperature == "degF" else (round(value, 1), "degC")
    if kind == "duration":
        return round(value, 1), "s"
    if kind == "temperature":
        return (round(value * 1.8 + 32, 1), "degF") if units.temperature == "degF" else (round(value, 1), "degC")
    return round(value, 4), kind


def _scaled(value: float, unit: str) -> tuple[float, str]:
    factor, decimals = _FACTORS[unit]
    return round(value / factor, decimals), unit


def _words(value: float | str, kind: str, units: Units) -> str:
    if isinstance(value, str):
        return value
    if kind == "length":
        return show_length(value, units)
    if kind in ("pressure", "flow", "temperature", "difference", "volume", "power", "duration", "speed"):
        return show_quantity(value, kind, units)
    number = f"{round(value, 4):.10g}"
    return number if kind == "count" else f"{number} {kind}"
