"""From facts to a house: the one door into this package."""

from plancheck.facts import Facts
from plancheck.flow.devices import add_parts
from plancheck.flow.fixtures import add_fixtures
from plancheck.flow.house import Drawing, House
from plancheck.flow.levels import Levels
from plancheck.flow.pipes import add_runs, setting_of
from plancheck.flow.supply import add_supply, gauge_of
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn

USUAL_COLD_C = (60.0 - 32.0) / 1.8
USUAL_HOT_C = (120.0 - 32.0) / 1.8


def build_house(facts: Facts, band: float = 0.0) -> House:
    """The house of a plan as a network. band: -1 for the lowest losses of fittings, 0 for the middle, 1 for the highest."""
    drawing = Drawing()
    coldest = facts.plan.water.coldest
    cold_c = coldest.si if isinstance(coldest, Quantity) else None
    hot_c = _hot_c(facts)
    levels = Levels(facts.plan, facts.geometry, gauge_of(facts))
    setting = setting_of(facts, band, cold_c if cold_c is not None else USUAL_COLD_C, hot_c)
    add_runs(drawing, setting)
    add_parts(drawing, setting, levels, cold_c if cold_c is not None else USUAL_COLD_C)
    supply = add_supply(drawing, facts, levels)
    fixtures = add_fixtures(drawing, facts, levels)
    network = drawing.network()
    return House(
        network, frozenset(drawing.closed), drawing.pieces, fixtures, drawing.joiner.all(), levels,
        tuple(drawing.assumed), supply, cold_c, hot_c,
    )  # fmt: skip


def _hot_c(facts: Facts) -> float:
    """The temperature of the hot water: of the heater, of the first that says it."""
    for part in facts.plan.parts.values():
        if isinstance(part.own, HeaterOwn) and isinstance(part.own.set, Quantity) and part.work != "removed":
            return part.own.set.si
    return USUAL_HOT_C
