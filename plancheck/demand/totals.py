"""The fixture units of a whole plan, whatever its piping: for a declared load."""

from plancheck.demand.fixtures import Missing, items_of
from plancheck.demand.peaks import units_of_sum
from plancheck.demand.tally import Tally
from plancheck.demand.units import Units
from plancheck.model import Plan
from plancheck.record import NamedTuple


class Totals(NamedTuple):
    """Both sums of a plan's fixtures: with groups and one by one; missing: what is in neither."""

    grouped: Units
    single: Units
    missing: tuple[Missing, ...]


def totals_of(plan: Plan, family: str) -> Totals:
    """The fixture units of all fixtures of a plan in a family (irc, ipc or upc), existing ones too, removed ones not.

    One by one each fixture has its own row (upc: hose outlets after the first count less). The rest of a house counts
    by its fixtures; without them it is missing, even where its draw is known.
    """
    tally = Tally(family)
    draws = []
    for part, items in items_of(plan, family, as_piped=False).items():
        for item in items:
            tally.add(item, item.needs)
            if item.units.draw_m3s or item.units.hose:
                draws.append(Missing(f"fixture units of {part.replace('-', ' ')}", ("parts", part)))
    found = tally.sum()
    return Totals(*units_of_sum(family, found), found.units_missing + tuple(draws))
