"""Which outlet has least left at peak over what it needs."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.flow.capacity import Left
from plancheck.flow.required import ROWS, rate_of, rows_of
from plancheck.model import Part
from plancheck.record import NamedTuple


class Worst(NamedTuple):
    """An outlet at peak: what is left there, and the least pressure its row asks for (Pa, 0 where no row names it)."""

    part: Part
    left: Left
    least_pa: float

    @property
    def margin_pa(self) -> float:
        """What is left over the need."""
        return self.left.pa - self.least_pa


def worst_outlet(facts: Facts) -> Worst | None:
    """The outlet with the smallest margin at peak by sections; None where no outlet's pressure is known."""
    flow, worst = facts.flow, None
    share = 0.8 if facts.family == "upc" else 1.0  # of what a regulator is set to, as the UPC sizes behind one
    for fixture in flow.house.fixtures.values():
        part = facts.plan.parts[fixture.part]
        rate = rate_of(part)
        if rate is None:
            continue
        left = flow.at_peak(fixture, rate, facts.loads, share)
        found = Worst(part, left, least_of(part))
        if left.missing is None and not left.why and (worst is None or found.margin_pa < worst.margin_pa):
            worst = found
    return worst


def least_of(part: Part) -> float:
    """The least pressure that the row of an outlet asks for, Pa; 0 where no row names it."""
    return max((ROWS[row].pressure_pa for row in rows_of(part)), default=0.0)
