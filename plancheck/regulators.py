"""The regulators of a plan: the zones on both sides, what they feed, where gauges go on, and where they stand."""

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.gaugeports import gauges_of
from plancheck.limits import InForce, NotShown
from plancheck.measures import Length
from plancheck.measures.units import PSI_PA
from plancheck.model import NONE, NOT_KNOWN, Part, Reach, RegulatorOwn
from plancheck.record import NamedTuple

_COLD = ("outdoors", "attic", "crawl space", "outside wall")


class Station(NamedTuple):
    """A regulator, the numbers of the zones ahead of it and behind it, and whether it feeds the house."""

    part: Part
    own: RegulatorOwn
    ahead: int | None
    behind: int | None
    house: bool


def stations(facts: Facts) -> Iterator[Station]:
    """Every regulator that is not removed."""
    number, zone_of = facts.network.number, facts.standing.zone_of
    for part in facts.plan.parts.values():
        if isinstance(part.own, RegulatorOwn) and part.work != "removed":
            ahead, behind = zone_of.get(number[f"{part.id}/in"]), zone_of.get(number[f"{part.id}/out"])
            yield Station(part, part.own, ahead, behind, _feeds_house(facts, behind))


def _feeds_house(facts: Facts, behind: int | None) -> bool:
    """Whether anything but hose outlets draws behind it; so it is taken where nothing draws at all yet."""
    zone_of, parts = facts.standing.zone_of, facts.plan.parts
    kinds = {
        parts[side.partition("/")[0]].is_ for side, tap in facts.network.outlets.items() if zone_of.get(tap) == behind
    }
    return not kinds or kinds != {"hose outlet"}


def sides_without_gauge(one: Station, facts: Facts) -> list[str]:
    """Of its sides, in and out, those on which no gauge goes on."""
    ports, zone_of = one.own.gauge_ports, facts.standing.zone_of
    zones = {zone_of.get(gauge.vertex) for gauge in gauges_of(facts) if gauge.doubt is None}
    there = {
        "in": ports in ("in", "both") or one.ahead in zones,
        "out": ports in ("out", "both") or one.behind in zones,
    }
    return [side for side, found in there.items() if not found]


def filter_ahead(one: Station, facts: Facts) -> bool:
    """Whether all its water passes a filter first."""
    shuts, number = facts.zones.shuts, facts.network.number
    parts = facts.plan.parts.values()
    return any(p.is_ == "filter" and p.id in number and shuts(number[p.id], number[one.part.id]) for p in parts)


def place_fault(part: Part, facts: Facts) -> str | None:
    """Why it stands in the wrong place, in words; None where it stands right. Raises NotShown."""
    place = facts.plan.places.get(part.place) if part.place is not None else None
    said = part.reach.kind if isinstance(part.reach, Reach) else part.reach
    if said == NONE or part.hidden is True:
        return "is closed in where nobody gets at it"
    if place is not None:
        if place.is_ in ("ground", "slab"):
            return f"lies in {place.title}"
        frost = place.is_ == "outdoors" and isinstance(place.frost, Length) and place.frost.m > 0
        if place.freezes is True or (frost and place.freezes is None):
            return f"stands in {place.title}, which freezes"
    if said is None or said == NOT_KNOWN:
        raise NotShown(("parts", part.id, "reach"), "how one gets at it (reach: open, or a panel)")
    if place is not None and place.is_ in _COLD and place.freezes is not False and place.frost != NONE:
        raise NotShown(("places", place.id, "freezes"), f"whether it freezes in {place.title}")
    return None


def usual_setting(facts: Facts, limit: InForce) -> str:
    """What a regulator is set to: habit, or the most where an amendment asks for less than that."""
    psi = facts.units.pressure == "psi"
    if limit.number < (60 * PSI_PA if psi else 4e5):
        return f"{facts.quantity(limit.number, 'pressure')} or less"
    return "55 to 60 psi" if psi else facts.quantity(4e5, "pressure")
