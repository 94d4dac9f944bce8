"""Cells of an answer table in the plan's own units: for machines a number and a unit, for people a text."""

from plancheck.facts import Facts
from plancheck.flow.pages.table import Cell, Column
from plancheck.measures.units import BTU_J, FOOT_M, GALLON_M3, LITRE_M3, PSI_PA

# unit -> its worth in SI, and the decimals that make sense
_UNITS = {
    "psi": (PSI_PA, 1),
    "kPa": (1e3, 0),
    "bar": (1e5, 2),
    "gpm": (GALLON_M3 / 60.0, 2),
    "L/s": (LITRE_M3, 3),
    "L/min": (LITRE_M3 / 60.0, 1),
    "ft/s": (FOOT_M, 1),
    "m/s": (1.0, 2),
    "gal": (GALLON_M3, 2),
    "L": (LITRE_M3, 1),
    "ft": (FOOT_M, 1),
    "m": (1.0, 1),
    "s": (1.0, 0),
    "Btu/h": (BTU_J / 3600.0, 0),
    "%": (0.01, 0),
    "": (1.0, 2),
}


def unit_of(column: Column, facts: Facts) -> str:
    """The unit a column is printed in; empty for text and bare numbers."""
    units = facts.units
    if column.kind == "length":
        return "ft" if units.length == "ft-in" else "m"
    if column.kind in ("pressure", "flow", "speed", "volume"):
        return str(getattr(units, column.kind))
    if column.kind in ("whole degrees", "degrees apart"):
        return units.temperature
    return {"duration": "s", "share": "%"}.get(column.kind, "")


def number_of(cell: Cell, column: Column, facts: Facts) -> Cell:
    """The figure of a cell in its column's unit, rounded to what makes sense; text and nothing as they are."""
    if cell is None or isinstance(cell, str):
        return cell
    fahrenheit = facts.units.temperature == "degF"
    if column.kind == "whole degrees":
        return round(cell * 1.8 + 32.0 if fahrenheit else cell)
    if column.kind == "degrees apart":
        return round(cell * 1.8 if fahrenheit else cell)
    factor, decimals = _UNITS[unit_of(column, facts)]
    return round(cell / factor, decimals) + 0.0


def text_of(cell: Cell, column: Column, facts: Facts) -> str:
    """A cell as people read it; what is not known is a dash."""
    found = number_of(cell, column, facts)
    if found is None:
        return "-"
    if isinstance(found, str):
        return found
    if column.kind == "pressure" and found < 0:
        return "none"
    if column.kind == "degrees apart":
        return f"{found:+.0f}" if round(found) else "0"
    if column.kind == "whole degrees":
        return f"{found:.0f}"
    decimals = _UNITS[unit_of(column, facts)][1]
    text = f"{found:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if unit_of(column, facts) == "" and "." in text else text


def heading(column: Column, facts: Facts) -> str:
    """A column's name with its unit."""
    unit = unit_of(column, facts)
    return f"{column.name} {unit}" if unit else column.name
