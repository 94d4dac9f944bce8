"""From fixture units to flow, by the curve of the same code family and in the way of its own text.

Units know their family, and a curve is found only through them: weights of one family never meet another's curve.
"""

from bisect import bisect_left

from plancheck.demand import curvedata as data
from plancheck.demand.units import Units
from plancheck.limits import Source
from plancheck.measures.units import GALLON_M3
from plancheck.record import NamedTuple

GPM_M3S = GALLON_M3 / 60
ROUND_UP, BETWEEN = "rounded up to the next row", "read between rows"
_SAME_UNITS = 1e-6


class Curve(NamedTuple):
    """One column of a family: rows (fixture units, gpm), and how a load between two rows is read."""

    column: str
    rows: data.Rows
    way: str
    source: Source


class Flow(NamedTuple):
    """A flow read off a curve; how: column and way, in words."""

    m3s: float
    how: str
    source: Source


class NoFlow(NamedTuple):
    """Why no curve of the family answers."""

    why: str


_ICC = (
    Curve("flush tank", data.ICC_TANK, ROUND_UP, data.ICC_TANK_SOURCE),
    Curve("flush valve", data.ICC_VALVE, ROUND_UP, data.ICC_VALVE_SOURCE),
)
_CURVES: dict[str, tuple[Curve, ...]] = {
    "irc": _ICC,
    "ipc": _ICC,
    "upc": (Curve("flush tank", data.HUNTER_TANK, BETWEEN, data.HUNTER_TANK_SOURCE),),
}


def flow_of(units: Units) -> Flow | NoFlow:
    """The flow (m3/s) for a load's total fixture units, by its own family's curve.

    The flush valve column counts for a pipe that serves a flush valve, so never for a hot one. A load under the first
    row takes that row; one past the last has no answer.
    """
    column = "flush valve" if units.flush_valves else "flush tank"
    curve = next((curve for curve in _CURVES[units.family] if curve.column == column), None)
    if curve is None:
        return NoFlow(f"no {column} curve of the {units.family} is carried")
    load = units.total
    if load <= 0:
        return Flow(0.0, "no fixture units", curve.source)
    if load > curve.rows[-1][0] + _SAME_UNITS:
        return NoFlow(f"the {column} curve ends at {curve.rows[-1][0]:g} fixture units")
    return Flow(*_read(curve, load), curve.source)


def _read(curve: Curve, load: float) -> tuple[float, str]:
    """The flow in m3/s and how it was read."""
    at = bisect_left(curve.rows, (load - _SAME_UNITS, 0.0))
    units, gpm = curve.rows[at]
    if abs(units - load) <= _SAME_UNITS:
        return gpm * GPM_M3S, f"{curve.column} column, the row of {units:g}"
    if curve.way == ROUND_UP or at == 0:
        return gpm * GPM_M3S, f"{curve.column} column, {ROUND_UP} ({units:g})"
    under, least = curve.rows[at - 1]
    share = (load - under) / (units - under)
    return (least + share * (gpm - least)) * GPM_M3S, f"{curve.column} column, {BETWEEN} ({under:g} and {units:g})"
