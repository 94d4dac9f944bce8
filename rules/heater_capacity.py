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
from math import ceil

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    PRACTICE,
    Facts,
    FixtureOwn,
    HeaterOwn,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    estimates,
    holds,
    on_site,
    printed,
    recalled,
)

_GPM, _GALLON_M3, _BTU_H_W = 6.30901964e-5, 3.785411784e-3, 0.29307107017
LARGEST = Limit(
    "largest",
    "of the largest single hot draw that a tankless heater is able to warm",
    "share",
    "at least",
    practice=(Value(1.0, PRACTICE, practice=True),),
)
LIGHTS = Limit(
    "lights",
    "of the flow a tankless heater lights at (makers claim 0.5 to 0.6 gpm with gas, 0.37 gpm electric)",
    "share",
    "at least",
    practice=(Value(1.0, printed("heater makers' claims", "", "least flow"), practice=True),),
)
SHOWER = Limit(
    "shower",
    "hot water a shower takes in the first hour (older worksheet; the newer says 20 gal)",
    "volume",
    "at least",
    practice=(Value(12 * _GALLON_M3, printed("a federal energy office", "older", "worksheet"), practice=True),),
)
SHOWER_NEWER = Limit(
    "shower_newer",
    "hot water a shower takes in the first hour (newer worksheet)",
    "volume",
    "at least",
    practice=(
        Value(20 * _GALLON_M3, printed("a federal energy office", "newer", "worksheet, on a page"), practice=True),
    ),
)
DISHWASHER = Limit(
    "dishwasher",
    "hot water a dishwasher takes in the first hour",
    "volume",
    "at least",
    practice=(Value(7 * _GALLON_M3, recalled("a federal energy office", "newer", "worksheet"), practice=True),),
)
RULE = Rule(highest="advice", stage="layout", limits=(LARGEST, LIGHTS, SHOWER, SHOWER_NEWER, DISHWASHER))

_TANKLESS = ("tankless", "boiler coil")
_FULLY_HOT = frozenset(("dishwasher", "clothes washer"))
_SHOWERS = frozenset(("shower", "tub and shower"))
_SINKS = frozenset(("lavatory", "kitchen sink", "bar sink", "laundry tray", "bidet"))
# what an outlet draws where the plan does not say: IRC P2903.1, read; washer another state's code, read
_USUAL_M3S = {
    "bathtub": 4 * _GPM,
    "tub and shower": 4 * _GPM,
    "shower": 2.5 * _GPM,
    "lavatory": 0.8 * _GPM,
    "kitchen sink": 1.75 * _GPM,
    "bar sink": 1.75 * _GPM,
    "laundry tray": 4 * _GPM,
    "bidet": 2 * _GPM,
    "dishwasher": 2.75 * _GPM,
    "clothes washer": 4 * _GPM,
}
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
    fed = _fed(facts) if heaters else {}
    for heater in heaters:
        own, outlets = heater.own, tuple(fed.get(heater.id, ()))
        if not isinstance(own, HeaterOwn) or not outlets:
            continue
        name, path = facts.part_name(heater.id), ("parts", heater.id)
        if not _tankless(own):
            yield Subject(path, f"first hour of {name}", heater.place, Asked("hour", heater, own, None, outlets))
            continue
        yield Subject(path, f"largest draw on {name}", heater.place, Asked("largest", heater, own, None, outlets))
        for part in outlets:
            thing = Asked("lights", heater, own, part, outlets)
            yield Subject(("parts", part.id), f"{facts.part_name(part.id)} lights {name}", part.place, thing)


def _tankless(own: HeaterOwn) -> bool:
    return own.style in _TANKLESS or (own.style == "point of use" and own.volume is None)


def _fed(facts: Facts) -> dict[str, list[Part]]:
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


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether it warms the largest draw, lights for each, or gives what the first hour asks."""
    asked: Asked = subject.thing
    if asked.asks == "hour":
        return _hour(asked, facts, limits)
    return _largest(asked, facts, limits) if asked.asks == "largest" else _lights(asked, facts, limits)


def _said(value: Quantity | str | None, path: Path, what: str) -> Quantity:
    if not isinstance(value, Quantity):
        raise NotShown(path, what)
    return value


def _temperatures(asked: Asked, facts: Facts) -> tuple[Quantity, Quantity]:
    """The coldest supply, and the setting."""
    hot = _said(asked.own.set, ("parts", asked.heater.id, "set"), "what the heater is set to")
    return _said(facts.plan.water.coldest, ("water", "coldest"), "the coldest water of the year"), hot


def _rate(part: Part) -> Quantity | None:
    """What the plan says an outlet draws at most."""
    own = part.own
    if not isinstance(own, FixtureOwn):
        return None
    said = own.head if part.is_ == "shower" else own.faucet
    if part.is_ == "tub and shower" and not isinstance(said, Quantity):
        return None  # its spout is the larger draw, and is not said
    return said if isinstance(said, Quantity) else None


def _hot_m3s(part: Part, rate_m3s: float, cold_c: float, hot_c: float) -> float:
    """The hot share of an outlet's rate; all of it where nothing is mixed."""
    from plancheck.hot.heater import MIXED_C
    from plancheck.hot.mixing import hot_share

    return rate_m3s if part.is_ in _FULLY_HOT else rate_m3s * hot_share(MIXED_C, cold_c, hot_c)


def _able(asked: Asked, cold: Quantity, hot: Quantity) -> tuple[float, str]:
    """What the heater warms at full input, and the estimates in it."""
    from plancheck.hot.heater import able_m3s

    path = ("parts", asked.heater.id)
    input_ = _said(asked.own.input, (*path, "input"), "the heat input of the heater")
    if input_.si <= 0:
        raise NotShown((*path, "input"), "a heat input above 0")
    efficiency = asked.own.efficiency
    if efficiency is None and asked.own.fuel == "electric":
        efficiency = 1.0
    if not isinstance(efficiency, float):
        raise NotShown((*path, "efficiency"), "the efficiency of the heater (0.82, say)")
    if hot.si <= cold.si:
        raise NotShown((*path, "set"), "a setting above the coldest water")
    return able_m3s(input_.si, efficiency, hot.si - cold.si), estimates(input_, cold, hot)


def _largest(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.hot.heater import input_needed_w

    cold, hot = _temperatures(asked, facts)
    able_m3s, about = _able(asked, cold, hot)
    draws = []
    for part in asked.outlets:
        said = _rate(part)
        rate_m3s = said.si if said is not None else _USUAL_M3S.get(part.is_)
        if rate_m3s is not None:
            draws.append((_hot_m3s(part, rate_m3s, cold.si, hot.si), part, said))
    if not draws:
        raise NotShown(("parts", asked.outlets[0].id), "what its outlets draw")
    needed_m3s, part, said = max(draws, key=lambda draw: draw[0])
    limit = limits.of(LARGEST)
    about = ", ".join(filter(None, (about, estimates(said))))
    measured = Measured(able_m3s, "flow")
    if able_m3s >= needed_m3s - _SAME_M3S * 0.02:
        return holds(_remark(able_m3s, _peak_m3s(asked.heater, facts), facts), measured, limit, about)
    peak_m3s = _peak_m3s(asked.heater, facts)
    peak = f"; the hot peak is {facts.quantity(peak_m3s, 'flow')}" if peak_m3s is not None else ""
    able, needs = facts.quantity(able_m3s, "flow"), facts.quantity(needed_m3s, "flow")
    rise = f"{facts.quantity(cold.si, 'temperature')} to {facts.quantity(hot.si, 'temperature')}"
    efficiency = float(asked.own.efficiency) if isinstance(asked.own.efficiency, int | float) else 1.0
    step_w = 500.0 if facts.units.power == "kW" else 1000 * _BTU_H_W
    more_w = ceil(input_needed_w(needed_m3s, efficiency, hot.si - cold.si) / step_w) * step_w
    more = facts.quantity(more_w, "power")
    input_ = facts.quantity(asked.own.input.si, "power") if isinstance(asked.own.input, Quantity) else ""
    return broken(
        f"{input_} at {efficiency:g} gives {able} at {rise}; {facts.part_name(part.id)} asks {needs} hot{peak}.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"able to warm {able}",
        needed=f"at least {needs}, the hot share of {facts.part_name(part.id)}",
        mend=f"{more} or more, or a slower filler at {facts.part_name(part.id)}.",
        at=("parts", asked.heater.id, "input"),
        estimate=about,
    )


def _peak_m3s(heater: Part, facts: Facts) -> float | None:
    """The hot peak at the heater, reached in 1 of 100 uses, by the binomial method; None where it is not shown."""
    graph = facts.network
    for number in graph.touching[graph.number[f"{heater.id}/hot"]]:
        run = graph.edges[number].run
        if run is not None:
            return facts.loads[run].by_binomial.flow_m3s
    return None


def _remark(able_m3s: float, peak_m3s: float | None, facts: Facts) -> str:
    """What the peak means where the heater is able to warm the largest single draw."""
    if peak_m3s is None:
        return "the largest single draw is warmed; the hot peak is not shown"
    peak, able = facts.quantity(peak_m3s, "flow"), facts.quantity(able_m3s, "flow")
    if peak_m3s > able_m3s:
        return f"able to warm {able}; at the hot peak of {peak} two at once will run cooler"
    return f"able to warm {able}, the hot peak of {peak}"


def _lights(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    part = asked.outlet
    assert part is not None
    least = _said(
        asked.own.least,
        ("parts", asked.heater.id, "least"),
        "the least flow the heater lights at (makers claim 0.5 to 0.6 gpm with gas, 0.37 electric)",
    )
    cold, hot = _temperatures(asked, facts)
    rate, key = _rate(part), "head" if part.is_ == "shower" else "faucet"
    rate_m3s = rate.si if rate is not None else _USUAL_M3S[part.is_] if part.is_ in _FULLY_HOT else None
    limit, about = limits.of(LIGHTS), estimates(least, cold, hot, rate)
    if rate_m3s is None:
        slow_m3s = _hot_m3s(part, _SLOWEST_M3S, cold.si, hot.si)
        if part.is_ in ("bathtub", "tub and shower", "rest of house") or slow_m3s >= least.si - _SAME_M3S * 0.02:
            return holds("at any rate that is sold", None, limit, estimates(least, cold, hot))
        raise NotShown(("parts", part.id, key), f"its rate ({key}), and with it whether it lights the heater")
    share_m3s = _hot_m3s(part, rate_m3s, cold.si, hot.si)
    measured = Measured(share_m3s, "flow")
    if share_m3s >= least.si - _SAME_M3S * 0.02:
        return holds("", measured, limit, about)
    name, needs = facts.part_name(part.id), facts.quantity(least.si, "flow")
    found = facts.quantity(share_m3s, "flow")
    summer = facts.quantity(_hot_m3s(part, rate_m3s, max(cold.si, _SUMMER_C), hot.si), "flow")
    return broken(
        f"{name[0].upper()}{name[1:]} at {facts.quantity(rate_m3s, 'flow')} draws {found} hot; the heater lights at {needs}.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"{found} hot",
        needed=f"at least {needs}",
        mend=f"A faucet of {facts.quantity(rate_m3s * least.si / share_m3s, 'flow')} where the code allows it, or a "
        "heater that lights at less.",
        caution=f"In summer, with water at {facts.quantity(_SUMMER_C, 'temperature')}, it draws {summer} hot.",
        at=("parts", part.id, key) if rate is not None else None,
        estimate=about,
    )


def _hour(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.hot.heater import first_hour

    showers = sum(1 for part in asked.outlets if part.is_ in _SHOWERS)
    sinks = any(part.is_ in _SINKS for part in asked.outlets)
    need = first_hour(showers, sinks, any(part.is_ == "dishwasher" for part in asked.outlets))
    gives = _said(
        asked.own.first_hour, ("parts", asked.heater.id, "first-hour"), "the first-hour rating on the heater's label"
    )
    measured, limit = Measured(gives.si, "volume"), limits.of(SHOWER)
    low, high = facts.quantity(need.low_m3, "volume"), facts.quantity(need.high_m3, "volume")
    if gives.si >= need.high_m3 * (1 - 1e-9):
        if any(part.is_ == "rest of house" for part in asked.outlets):
            return on_site("enough for what is drawn; ask how many shower in the rest of the house")
        return holds("", measured, limit, estimates(gives))
    if gives.si >= need.low_m3 * (1 - 1e-9):
        return on_site(f"the busiest hour asks {low} to {high}: ask how many shower within the hour")
    said = facts.quantity(gives.si, "volume")
    return broken(
        f"First-hour rating {said}; {showers} showers, sinks and machines ask {low} to {high} in the busiest hour.",
        "advice",
        measured=measured,
        limit=limit,
        found=f"{said} in the first hour",
        needed=f"at least {low}",
        mend=f"A heater with a first-hour rating of {low} at least, {high} to be safe.",
        at=("parts", asked.heater.id, "first-hour"),
        estimate=estimates(gives),
    )
