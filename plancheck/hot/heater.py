"""What a heater is able to give: tankless by its heat input, storage by its first hour. SI: W, m3/s, m3, degC."""

from plancheck.limits import PRACTICE, Source, printed, recalled
from plancheck.measures.units import BTU_J, GALLON_M3
from plancheck.record import NamedTuple

# 500.4 Btu/h raise 1 gpm by 1 degF: 8.34 lb a gallon, 60 min an hour; in W for 1 m3/s by 1 degC
HEAT_J_PER_M3_K = 500.4 * (BTU_J / 3600) * 1.8 / (GALLON_M3 / 60)
MIXED_C = (105 - 32) / 1.8  # the water of a bath or shower

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
