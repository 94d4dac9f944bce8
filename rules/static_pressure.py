"""House pressure is between weak and too strong

Looks at: the standing pressure of each zone that feeds outlets: the gauge's reading where no regulator is, else what the
    regulator leaves; at the gauge, at the lowest outlet and at the highest, 0.433 psi for each foot. Pressure ahead of a
    regulator with nothing on it is ordinary. And whether the reading with water running is below the standing one.
Why: over 80 psi stops and fill valves chatter and fail, hoses burst while nobody is home, and makers take their word
    back. Under 40 psi a shower upstairs is weak as soon as anything else runs.
To mend: a regulator after the main valve, set to 55 to 60 psi, and an expansion tank with it, for it closes the house.
Cannot see: the street at three in the morning. It is often 10 to 20 psi above the reading of a working day; pressure that
    outlets get while water runs is judged elsewhere.
Ask: the water company for the highest pressure it gives, and the inspector where he puts his gauge.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_PRESSURE_PA,
    PRACTICE,
    PSI_PA,
    Facts,
    Flowing,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    known_quantity,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.standing import Zone

_80_PSI = 80 * PSI_PA
HIGHEST = Limit(
    "highest",
    "standing pressure in the house",
    "pressure",
    "at most",
    irc=(
        Value(_80_PSI, printed("IRC", "2015", "P2903.3.1")),
        Value(_80_PSI, printed("IRC", "2018", "P2903.3.2"), since=2018),
    ),
    ipc=(Value(_80_PSI, printed("IPC", "2015", "604.8")),),
    upc=(Value(_80_PSI, printed("UPC", "2015", "608.2")),),
    practice=(Value(_80_PSI, printed("IRC, IPC and UPC", "", "P2903.3.1, 604.8, 608.2"), practice=True),),
)
LOWEST = Limit(
    "lowest",
    "standing pressure in the house",
    "pressure",
    "at least",
    practice=(Value(40 * PSI_PA, printed("IRC", "older editions", "P2903.3"), practice=True),),
)
HAZARD = Limit(
    "hazard",
    "standing pressure from which it is a hazard: where relief valves of heaters open",
    "pressure",
    "at most",
    practice=(Value(150 * PSI_PA, PRACTICE, practice=True),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(HIGHEST, LOWEST, HAZARD))
_RUNNING = "reading with water running"


class Judged(NamedTuple):
    """A zone and its outlets by height: lowest and highest, part and metres; None where no height is known."""

    zone: "Zone"
    low: tuple[str, float] | None
    high: tuple[str, float] | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each zone that feeds an outlet or a heater, and once what only a day and a night tell."""
    from plancheck.standing import fed_by_well

    found = facts.standing
    if not found.zones:
        return
    source = "pressure of the well's tank" if fed_by_well(facts) else "pressure of the street"
    for number, zone in enumerate(found.zones):
        parts = _fed(facts, found.zone_of, number)
        if number == 0 and len(found.zones) > 1:
            if zone.pressure_pa is None:
                yield Subject(("water",), source, None, Judged(zone, None, None))
            continue
        if parts:
            name = f"pressure behind {facts.part_name(zone.regulators[0])}" if zone.regulators else source
            path: Path = ("parts", zone.regulators[0]) if zone.regulators else ("water",)
            yield Subject(path, name, None, _judged(zone, parts, facts))
    if isinstance(facts.plan.water.flowing, Flowing):
        yield Subject(("water", "flowing"), _RUNNING, None, _RUNNING)
    yield Subject(("water",), "highest pressure over a day and a night", None, None)


def _fed(facts: Facts, zone_of: dict[int, int], number: int) -> list[str]:
    """The parts that draw from a zone: outlets first, heaters where there are none."""
    graph = facts.network
    taps = (side.rpartition("/")[0] for side, tap in graph.outlets.items() if zone_of.get(tap) == number)
    parts = list(dict.fromkeys(taps))
    return parts or [p.id for p in facts.plan.parts.values() if p.is_ == "water heater" and zone_of.get(graph.number.get(p.id, -1)) == number]  # fmt: skip


def _judged(zone: "Zone", parts: list[str], facts: Facts) -> Judged:
    from plancheck.standing import height_of

    heights = [(part, height) for part in parts if (height := height_of(facts, part)) is not None]
    if not heights:
        return Judged(zone, None, None)
    return Judged(zone, min(heights, key=lambda one: one[1]), max(heights, key=lambda one: one[1]))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the zone stands between weak and too strong, at its gauge and at its outlets; the two readings of the gauge."""
    if subject.thing is None:
        return _on_site(facts)
    if subject.thing == _RUNNING:
        return _running(facts)
    thing: Judged = subject.thing
    zone = thing.zone
    if zone.pressure_pa is None:
        raise NotShown(zone.missing or ("water", "static"), "the standing pressure")
    highest, lowest = limits.of(HIGHEST), limits.of(LOWEST)
    measured = Measured(zone.pressure_pa, "pressure")
    if zone.pressure_pa > highest.number + GRACE_PRESSURE_PA:
        return _too_high(zone, facts, highest, limits.of(HAZARD))
    low_pa = zone.at_height(thing.low[1]) if thing.low is not None else None
    if thing.low is not None and low_pa is not None and low_pa > highest.number + GRACE_PRESSURE_PA:
        return _too_high_below(zone, thing.low[0], low_pa, facts, highest)
    high_pa = zone.at_height(thing.high[1]) if thing.high is not None else zone.pressure_pa
    if high_pa is not None and high_pa < lowest.number - GRACE_PRESSURE_PA:
        told = thing.high is not None and zone.at_m is not None
        return _too_low(zone, thing.high[0] if told and thing.high is not None else "", high_pa, facts, lowest)
    return holds("", measured, highest, zone.about)


def _on_site(facts: Facts) -> Outcome:
    from plancheck.standing import fed_by_well

    if fed_by_well(facts):
        return on_site("watch the gauge through one whole run of the pump: it is highest where the switch turns it off")
    return on_site("leave a gauge with a drag hand on for a day and a night: the street is highest when all sleep")


def _running(facts: Facts) -> Outcome:
    """Running water costs pressure: a reading above the standing one cannot be of the same hour and gauge."""
    water, running = facts.plan.water, facts.plan.water.flowing
    assert isinstance(running, Flowing)
    path = ("water", "flowing", "pressure")
    pressure = known_quantity(running.pressure, path, "the pressure that was read with water running")
    static = known_quantity(water.static, ("water", "static"), "the standing pressure")
    measured, about = Measured(pressure.si, "pressure"), estimates(pressure, static)
    if pressure.si <= static.si + GRACE_PRESSURE_PA:
        return holds("", measured, estimate=about)
    read, stood = facts.quantity(pressure.si, "pressure"), facts.quantity(static.si, "pressure")
    return broken(
        f"The gauge read {read} with water running and {stood} with none: water that runs costs pressure.",
        "advice",
        measured=measured,
        found=f"{read} running, {stood} standing",
        needed="a running pressure below the standing one",
        why="One of the two is wrong, or they are of different hours; what outlets get is then computed without the reading.",
        mend="Read both again, one right after the other, on the same gauge.",
        at=path,
        estimate=about,
    )


_BURST = "Relief valves open and hoses burst at this pressure: shut the main until it is brought down."


def _too_high(zone: "Zone", facts: Facts, limit: InForce, hazard: InForce) -> Outcome:
    from plancheck.regulators import usual_setting
    from plancheck.standing import fed_by_well

    assert zone.pressure_pa is not None
    shown, most = facts.quantity(zone.pressure_pa, "pressure"), facts.quantity(limit.number, "pressure")
    if zone.regulators:
        says = f"{capital(facts.part_name(zone.regulators[0]))} leaves {shown} in the house; at most {most}."
        mend = f"Set it to {usual_setting(facts, limit)}, and charge the expansion tank to the same."
    else:
        gauge = facts.plan.water.gauge
        at = f" at {facts.part_name(gauge)}" if gauge is not None else ""
        source = "well" if fed_by_well(facts) else "street"
        says = f"The {source} gives {shown}{at}, and nothing brings it down before the outlets; at most {most}."
        mend = f"Fit a regulator set to {usual_setting(facts, limit)} after the main valve, and an expansion tank with it."
    return broken(
        says,
        "hazard" if zone.pressure_pa > hazard.number + GRACE_PRESSURE_PA else "correction",
        measured=Measured(zone.pressure_pa, "pressure"),
        limit=limit,
        mend=mend,
        caution=_BURST if zone.pressure_pa > hazard.number + GRACE_PRESSURE_PA else "",
        at=zone.path,
        estimate=zone.about,
    )


def _too_high_below(zone: "Zone", part: str, found_pa: float, facts: Facts, limit: InForce) -> Outcome:
    from plancheck.regulators import usual_setting

    shown, most = facts.quantity(found_pa, "pressure"), facts.quantity(limit.number, "pressure")
    read = facts.quantity(zone.pressure_pa or 0.0, "pressure")
    return broken(
        f"The gauge reads {read}, which is {shown} down at {facts.part_name(part)}; at most {most}.",
        "advice",
        measured=Measured(found_pa, "pressure"),
        limit=limit,
        why="The code speaks of the building, and an inspector puts his gauge on one tap: the lowest has most.",
        mend=f"Fit a regulator set to {usual_setting(facts, limit)}, or set the one there a little lower: the lowest tap is then under {most}.",
        at=zone.path,
        estimate=zone.about,
    )


def _too_low(zone: "Zone", part: str, found_pa: float, facts: Facts, limit: InForce) -> Outcome:
    from plancheck.standing import PUMP_HIGHER, fed_by_well

    shown, least = facts.quantity(found_pa, "pressure"), facts.quantity(limit.number, "pressure")
    where = f" up at {facts.part_name(part)}" if part else ""
    mend = "Ask the water company for its lowest pressure; wider pipe helps the flow, only a pump the pressure."
    if zone.regulators:
        mend = "Raise the regulator's setting as far as the supply allows."
    elif fed_by_well(facts):
        mend = f"{capital(PUMP_HIGHER)}, and charge the tank to match."
    return broken(
        f"Only {shown} stands{where or ' in the house'} with nothing running; at least {least} serves a house well.",
        "advice",
        measured=Measured(found_pa, "pressure"),
        limit=limit,
        mend=mend,
        at=zone.path,
        estimate=zone.about,
    )
