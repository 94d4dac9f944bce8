"""What a heater is asked for and able to give: tankless by its heat input, storage by its first hour. W, m3/s, m3, degC."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from plancheck.answers import estimates, known_quantity
from plancheck.flow.required import rate_of, said_rate
from plancheck.limits import PRACTICE, NotShown, Source, printed, recalled
from plancheck.measures import Quantity
from plancheck.measures.units import BTU_J, GALLON_M3
from plancheck.model import HeaterOwn, Part
from plancheck.record import NamedTuple

if TYPE_CHECKING:
    from plancheck.facts import Facts

# 500.4 Btu/h raise 1 gpm by 1 degF: 8.34 lb a gallon, 60 min an hour; in W for 1 m3/s by 1 degC
HEAT_J_PER_M3_K = 500.4 * (BTU_J / 3600) * 1.8 / (GALLON_M3 / 60)
MIXED_C = (105 - 32) / 1.8  # the water of a bath or shower
FULLY_HOT = frozenset(("dishwasher", "clothes washer"))
_SHOWERS = frozenset(("shower", "tub and shower"))
_SINKS = frozenset(("lavatory", "kitchen sink", "bar sink", "laundry tray", "bidet"))

SHOWER_LOW_M3 = 12 * GALLON_M3
SHOWER_HIGH_M3 = 20 * GALLON_M3
SINKS_M3 = 5 * GALLON_M3
DISHWASHER_M3 = 7 * GALLON_M3
SOURCES: dict[str, Source] = {
    "12 gal a shower, 5 gal at sinks": printed("a federal energy office's worksheet", "older", "first hour"),
    "20 gal a shower": printed("a page on the federal energy office's worksheet", "newer", "first hour"),
    "7 gal a dishwasher": recalled("a federal energy office's worksheet", "newer", "first hour"),
    "heat by flow": PRACTICE,
}


class Draw(NamedTuple):
    """A hot draw: its hot share m3/s, its outlet, and the rate that the plan says."""

    hot_m3s: float
    part: Part
    said: Quantity | None


class FirstHour(NamedTuple):
    """What the first hour asks of a tank by the older and by the newer worksheet."""

    low_m3: float
    high_m3: float


def able_m3s(input_w: float, efficiency: float, rise_c: float) -> float:
    """The flow that a tankless heater raises by rise_c at full input. Raises ValueError where the rise is none."""
    if rise_c <= 0:
        raise ValueError("the water is to be made warmer")
    return input_w * efficiency / (HEAT_J_PER_M3_K * rise_c)


def input_needed_w(flow_m3s: float, efficiency: float, rise_c: float) -> float:
    """The heat input that raises the flow by rise_c."""
    return flow_m3s * HEAT_J_PER_M3_K * rise_c / efficiency


def least_flow_m3s(least_w: float, efficiency: float, rise_c: float) -> float:
    """The flow at which a burner turned down to least_w overshoots no more: below it the heater goes out."""
    return able_m3s(least_w, efficiency, rise_c)


def first_hour(showers: int, sinks: bool, dishwasher: bool) -> FirstHour:
    """The hot water of the busiest hour: each shower once, what is drawn at sinks, a dishwasher."""
    more_m3 = (SINKS_M3 if sinks else 0.0) + (DISHWASHER_M3 if dishwasher else 0.0)
    return FirstHour(showers * SHOWER_LOW_M3 + more_m3, showers * SHOWER_HIGH_M3 + more_m3)


def showers_among(kinds: Collection[str]) -> int:
    """How many of these outlets are showers."""
    return sum(kind in _SHOWERS for kind in kinds)


def first_hour_of(kinds: Collection[str]) -> FirstHour:
    """The hot water of the busiest hour at outlets of these kinds."""
    return first_hour(showers_among(kinds), any(kind in _SINKS for kind in kinds), "dishwasher" in kinds)


def efficiency_of(own: HeaterOwn) -> float | None:
    """The share of its heat that reaches the water: as said, all of it with electric heat; None where it is not known."""
    if own.efficiency is None and own.fuel == "electric":
        return 1.0
    return float(own.efficiency) if isinstance(own.efficiency, int | float) else None


def able_at(own: HeaterOwn, id_: str, cold: Quantity, hot: Quantity) -> tuple[float, str]:
    """The flow that a heater (id_) warms at full input, and the estimates in it. Raises NotShown."""
    path = ("parts", id_)
    input_ = known_quantity(own.input, (*path, "input"), "the heat input of the heater")
    if input_.si <= 0:
        raise NotShown((*path, "input"), "a heat input above 0")
    efficiency = efficiency_of(own)
    if efficiency is None:
        raise NotShown((*path, "efficiency"), "the efficiency of the heater (0.82, say)")
    if hot.si <= cold.si:
        raise NotShown((*path, "set"), "a setting above the coldest water")
    return able_m3s(input_.si, efficiency, hot.si - cold.si), estimates(input_, cold, hot)


def hot_m3s(part: Part, rate_m3s: float, cold_c: float, hot_c: float) -> float:
    """The hot share of an outlet's rate; all of it where nothing is mixed."""
    if part.is_ in FULLY_HOT:
        return rate_m3s
    from plancheck.hot.mixing import hot_share

    return rate_m3s * hot_share(MIXED_C, cold_c, hot_c)


def largest_draw(outlets: Collection[Part], cold_c: float, hot_c: float) -> Draw | None:
    """The largest hot draw of one outlet, at the rate that is said, else the usual one; None where none is known."""
    draws = []
    for part in outlets:
        said = said_rate(part)[0]
        rate_m3s = said.si if said is not None else rate_of(part)
        if rate_m3s is not None:
            draws.append(Draw(hot_m3s(part, rate_m3s, cold_c, hot_c), part, said))
    return max(draws, key=lambda draw: draw.hot_m3s, default=None)


def fed_by_heater(facts: Facts) -> dict[str, list[Part]]:
    """For each heater the parts whose hot side it feeds, through a mixing valve at the heater too."""
    found: dict[str, list[Part]] = {}
    graph, heated = facts.network, facts.traced.heated
    for side, tap in graph.outlets.items():
        id_, _, which = side.rpartition("/")
        by = heated.get(tap) if which == "hot" else None
        for _ in range(2):
            if by is not None and facts.plan.parts[by].is_ == "mixing valve":
                by = heated.get(graph.number.get(f"{by}/hot", -1))
        if by is not None:
            found.setdefault(by, []).append(facts.plan.parts[id_])
    return found


def hot_peak_m3s(facts: Facts, heater: str) -> float | None:
    """The hot peak at a heater, reached in 1 of 100 uses, by the binomial method; None where it is not shown."""
    graph = facts.network
    for number in graph.touching[graph.number[f"{heater}/hot"]]:
        run = graph.edges[number].run
        if run is not None:
            return facts.loads[run].by_binomial.flow_m3s
    return None
