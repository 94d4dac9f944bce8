"""The heater keeps up, and a tankless one lights

Looks at: for a tankless heater how much water its input warms from the coldest supply to its setting, against the largest
    single hot draw; and for each hot outlet whether its hot share, mixed to 105 degF, is enough flow to light it. For a
    tank what the busiest hour asks, each shower once, against its first-hour rating.
Why: a tankless heater that is too small gives a lukewarm bath on the coldest day; one that needs more flow than a slow
    faucet draws gives none at all. A tank that is too small leaves the last one under the shower in the cold.
To mend: more input or a slower filler; a heater that lights at less; a larger tank or a faster burner.
Cannot see: how many shower in the same hour, how hard the heater really fires at altitude or in wind, what scale has left of
    it, water warmer in summer, with which the hot share is smaller still.
Ask: no code asks for a capacity. A circulating pump on a tankless heater needs its maker's leave.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    PRACTICE,
    Facts,
    HeaterOwn,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Subject,
    broken,
    estimates,
    holds,
    known_quantity,
    of_practice,
    on_site,
    outlet_rate,
    printed,
    recalled,
)

_GPM, _GALLON_M3 = 6.30901964e-5, 3.785411784e-3
_OLDER = printed("a federal energy office", "older", "worksheet")
_NEWER = printed("a federal energy office", "newer", "worksheet, on a page")
_WASHES = recalled("a federal energy office", "newer", "worksheet")
LARGEST = of_practice(
    "largest",
    "of the largest single hot draw that a tankless heater is able to warm",
    "share",
    "at least",
    1.0,
    PRACTICE,
)
LIGHTS = of_practice(
    "lights",
    "of the flow a tankless heater lights at (makers claim 0.5 to 0.6 gpm with gas, 0.37 gpm electric)",
    "share",
    "at least",
    1.0,
    printed("heater makers' claims", "", "least flow"),
)
_TITLE = "hot water a shower takes in the first hour (older worksheet; the newer says 20 gal)"
SHOWER = of_practice("shower", _TITLE, "volume", "at least", 12 * _GALLON_M3, _OLDER)
_TITLE = "hot water a shower takes in the first hour (newer worksheet)"
SHOWER_NEWER = of_practice("shower_newer", _TITLE, "volume", "at least", 20 * _GALLON_M3, _NEWER)
_TITLE = "hot water a dishwasher takes in the first hour"
DISHWASHER = of_practice("dishwasher", _TITLE, "volume", "at least", 7 * _GALLON_M3, _WASHES)
RULE = Rule(highest="advice", stage="layout", limits=(LARGEST, LIGHTS, SHOWER, SHOWER_NEWER, DISHWASHER))

_LEAST = "the least flow the heater lights at (makers claim 0.5 to 0.6 gpm with gas, 0.37 electric)"
_SLOWEST_M3S = 0.5 * _GPM  # common practice: the slowest faucet that is sold
_SUMMER_C = (75 - 32) / 1.8
_SAME_M3S = 0.005 * _GPM


class Asked(NamedTuple):
    """One question (largest, lights, hour) of a heater; outlet: the part it is about; outlets: all it feeds."""

    asks: str
    heater: Part
    own: HeaterOwn
    outlet: Part | None
    outlets: tuple[Part, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each tankless heater, then each hot outlet it is to light for; each heater that stores, once."""
    heaters = [p for p in facts.plan.parts.values() if isinstance(p.own, HeaterOwn) and p.work != "removed"]
    if not heaters:
        return
    from plancheck.hot.heater import fed_by_heater

    fed = fed_by_heater(facts)
    for heater in heaters:
        own, outlets = heater.own, tuple(fed.get(heater.id, ()))
        if not isinstance(own, HeaterOwn) or not outlets:
            continue
        name, path = facts.part_name(heater.id), ("parts", heater.id)
        if not own.tankless:
            yield Subject(path, f"first hour of {name}", heater.place, Asked("hour", heater, own, None, outlets))
            continue
        yield Subject(path, f"largest draw on {name}", heater.place, Asked("largest", heater, own, None, outlets))
        for part in outlets:
            thing = Asked("lights", heater, own, part, outlets)
            yield Subject(("parts", part.id), f"{facts.part_name(part.id)} lights {name}", part.place, thing)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether it warms the largest draw, lights for each, or gives what the first hour asks."""
    asked: Asked = subject.thing
    if asked.asks == "hour":
        return _hour(asked, facts, limits)
    return _largest(asked, facts, limits) if asked.asks == "largest" else _lights(asked, facts, limits)


def _temperatures(asked: Asked, facts: Facts) -> tuple[Quantity, Quantity]:
    """The coldest supply, and the setting."""
    hot = known_quantity(asked.own.set, ("parts", asked.heater.id, "set"), "the temperature it is set to")
    return known_quantity(facts.plan.water.coldest, ("water", "coldest"), "the coldest water of the year"), hot


def _largest(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.hot.heater import able_at, hot_peak_m3s, largest_draw

    cold, hot = _temperatures(asked, facts)
    able_m3s, about = able_at(asked.own, asked.heater.id, cold, hot)
    largest = largest_draw(asked.outlets, cold.si, hot.si)
    if largest is None:
        raise NotShown(("parts", asked.outlets[0].id), "what its outlets draw")
    limit, about = limits.of(LARGEST), ", ".join(filter(None, (about, estimates(largest.said))))
    peak_m3s = hot_peak_m3s(facts, asked.heater.id)
    measured = Measured(able_m3s, "flow")
    if able_m3s >= largest.hot_m3s - _SAME_M3S * 0.02:
        return holds(_remark(able_m3s, peak_m3s, facts), measured, limit, about)
    from plancheck.hot.words import enough_words, input_words

    peak = f"; the hot peak is {facts.quantity(peak_m3s, 'flow')}" if peak_m3s is not None else ""
    able, needs = facts.quantity(able_m3s, "flow"), facts.quantity(largest.hot_m3s, "flow")
    rise = f"{facts.quantity(cold.si, 'temperature')} to {facts.quantity(hot.si, 'temperature')}"
    name = facts.part_name(largest.part.id)
    return broken(
        f"{input_words(asked.own, facts)} gives {able} at {rise}; {name} asks {needs} hot{peak}.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"able to warm {able}",
        needed=f"at least {needs}, the hot share of {name}",
        mend=f"Fit a heater of {enough_words(asked.own, largest.hot_m3s, hot.si - cold.si, facts)} or more, or a slower filler at {name}.",
        at=("parts", asked.heater.id, "input"),
        estimate=about,
    )


def _remark(able_m3s: float, peak_m3s: float | None, facts: Facts) -> str:
    """What the peak means where the heater is able to warm the largest single draw."""
    if peak_m3s is None:
        return "the largest single draw is warmed; the hot peak is not shown"
    peak, able = facts.quantity(peak_m3s, "flow"), facts.quantity(able_m3s, "flow")
    if peak_m3s > able_m3s:
        return f"able to warm {able}; at the hot peak of {peak} two at once will run cooler"
    return f"able to warm {able}, the hot peak of {peak}"


def _lights(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.flow.required import said_rate
    from plancheck.hot.heater import FULLY_HOT, hot_m3s

    part = asked.outlet
    assert part is not None
    least = known_quantity(asked.own.least, ("parts", asked.heater.id, "least"), _LEAST)
    cold, hot = _temperatures(asked, facts)
    rate, key = said_rate(part)
    rate_m3s = rate.si if rate is not None else outlet_rate(part) if part.is_ in FULLY_HOT else None
    limit, about = limits.of(LIGHTS), estimates(least, cold, hot, rate)
    if rate_m3s is None:
        slow_m3s = hot_m3s(part, _SLOWEST_M3S, cold.si, hot.si)
        if part.is_ in ("bathtub", "tub and shower", "rest of house") or slow_m3s >= least.si - _SAME_M3S * 0.02:
            return holds("at any rate that is sold", None, limit, estimates(least, cold, hot))
        raise NotShown(("parts", part.id, key), f"its rate ({key}), and with it whether it lights the heater")
    share_m3s = hot_m3s(part, rate_m3s, cold.si, hot.si)
    if share_m3s <= 0:
        return holds("the cold water is warm enough without it", None, limit, about)
    measured = Measured(share_m3s, "flow")
    if share_m3s >= least.si - _SAME_M3S * 0.02:
        return holds("", measured, limit, about)
    summer = facts.quantity(hot_m3s(part, rate_m3s, max(cold.si, _SUMMER_C), hot.si), "flow")
    name, needs, found = facts.part_name(part.id), facts.quantity(least.si, "flow"), facts.quantity(share_m3s, "flow")
    return broken(
        f"{name[0].upper()}{name[1:]} at {facts.quantity(rate_m3s, 'flow')} draws {found} hot; the heater lights at {needs}.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"{found} hot",
        needed=f"at least {needs}",
        mend=_more(rate_m3s * least.si / share_m3s, facts),
        caution=f"In summer, with water at {facts.quantity(_SUMMER_C, 'temperature')}, it draws {summer} hot.",
        at=("parts", part.id, key) if rate is not None else None,
        estimate=about,
    )


def _more(rate_m3s: float, facts: Facts) -> str:
    from plancheck.measures.steps import stepped_up

    rate = facts.quantity(stepped_up(rate_m3s, "flow", facts.units), "flow")
    return f"Fit a faucet of {rate} where the code allows it, or a heater that lights at less."


def _hour(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.hot.heater import first_hour_of, showers_among

    kinds = [part.is_ for part in asked.outlets]
    need = first_hour_of(kinds)
    gives = known_quantity(
        asked.own.first_hour, ("parts", asked.heater.id, "first-hour"), "the first-hour rating on the heater's label"
    )
    measured, limit = Measured(gives.si, "volume"), limits.of(SHOWER)
    low, high = facts.quantity(need.low_m3, "volume"), facts.quantity(need.high_m3, "volume")
    if gives.si >= need.high_m3 * (1 - 1e-9):
        if "rest of house" in kinds:
            return on_site("enough for what is drawn; ask how many shower in the rest of the house")
        return holds("", measured, limit, estimates(gives))
    if gives.si >= need.low_m3 * (1 - 1e-9):
        return on_site(f"the busiest hour asks {low} to {high}: ask how many shower within the hour")
    said = facts.quantity(gives.si, "volume")
    return broken(
        f"First-hour rating {said}; {showers_among(kinds)} showers, sinks and machines ask {low} to {high} in the busiest hour.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"{said} in the first hour",
        needed=f"at least {low}",
        mend=f"Fit a heater with a first-hour rating of {low} at least, {high} to be safe.",
        at=("parts", asked.heater.id, "first-hour"),
        estimate=estimates(gives),
    )
