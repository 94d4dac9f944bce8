"""Values of a plan that a rubric puts bands on: what each is, how its bands are written, how it is found. SI."""

from __future__ import annotations

from collections.abc import Callable

from plancheck.facts import Facts
from plancheck.measures import MeasureError, read_length, read_quantity
from plancheck.record import NamedTuple


class Unknown(Exception):
    """The plan does not say enough for the value; what: in words."""

    def __init__(self, what: str) -> None:
        super().__init__(what)
        self.what = what


class Kind(NamedTuple):
    """A value: its title, the kind of its measure, whether less is better, an example of a band, how it is found."""

    title: str
    measure: str
    at_most: bool
    example: str
    find: Callable[[Facts], float]


def _path_gap(facts: Facts) -> float:
    """The largest gap between two ways of measuring the same thing in the drawing, m."""
    gaps = [one.gap_m for one in facts.geometry.compared]
    if not gaps:
        raise Unknown("two ways to anything: no path meets another or a measured point")
    return max(gaps)


def _pressure_left(facts: Facts) -> float:
    """What the worst outlet has left at peak over what the code asks there, Pa."""
    from plancheck.flow.worst import worst_outlet

    worst = worst_outlet(facts)
    if worst is None:
        raise Unknown("the pressure at any outlet")
    return worst.margin_pa


def _shower_swing(facts: Facts) -> float:
    """The largest change of a shower's temperature when one other outlet opens, with its valve if it has one, K."""
    from plancheck.flow.pages.showers import showers_tables
    from plancheck.flow.pages.table import Gaps

    found = []
    for table in showers_tables(facts.flow, Gaps()):
        for row in table.rows:
            held = row[6] if len(row) > 6 else row[4]
            before = row[3]
            if isinstance(held, float) and isinstance(before, float):
                found.append(abs(held - before))
    if not found:
        raise Unknown("how warm any shower is")
    return max(found)


def _hot_wait(facts: Facts) -> float:
    """The longest wait for hot water, s."""
    from plancheck.flow.pages.hot import wait_table
    from plancheck.flow.pages.table import Gaps

    table = wait_table(facts.flow, Gaps())
    place = next(number for number, column in enumerate(table.columns) if column.name == "wait")
    waits = [row[place] for row in table.rows]
    known = [one for one in waits if isinstance(one, float)]
    if not known:
        raise Unknown("how long hot water takes to any outlet")
    return max(known)


VALUES = {
    "path gap": Kind("largest gap in the drawing", "length", True, "2 mm", _path_gap),
    "pressure left": Kind("pressure the worst outlet has to spare at peak", "pressure", False, "5 psi", _pressure_left),
    "shower swing": Kind("largest swing of a shower", "degrees apart", True, "3.6 degF", _shower_swing),
    "hot wait": Kind("longest wait for hot water", "duration", True, "30 s", _hot_wait),
}


def read_band(said: str | float, kind: Kind) -> float:
    """A band of a value, SI. Raises MeasureError."""
    if kind.measure == "length":
        return read_length(said).m
    if kind.measure == "degrees apart":
        return _degrees_apart(str(said), kind.example)
    return read_quantity(said, kind.measure).si


def _degrees_apart(said: str, example: str) -> float:
    """A difference of temperatures, K."""
    number, _, unit = said.strip().partition(" ")
    factor = {"degF": 1.0 / 1.8, "degC": 1.0, "K": 1.0}.get(unit.strip())
    try:
        value = float(number)
    except ValueError:
        value = -1.0
    if factor is None or not 0.0 <= value < 1000.0:
        raise MeasureError(f"'{said}' is no difference of temperatures", f"write it with its unit, such as {example}")
    return value * factor


def shown(value: float, kind: Kind, facts: Facts) -> str:
    """A value in the plan's own units; a gap in millimetres, as one measures it."""
    if kind.measure == "length":
        return f"{value * 1000:.1f} mm"
    if kind.measure == "degrees apart":
        return facts.degrees_apart(value)
    if kind.measure == "duration":
        return f"{value:.0f} s"
    return facts.quantity(value, kind.measure)
