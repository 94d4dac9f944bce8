"""Judging the main: full-way, in reach, where it belongs, and nothing drawn off ahead of it."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.answers import broken, holds, is_new, on_site
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.model import Part, ValveOwn
from plancheck.outcomes import Outcome
from plancheck.valves import Described, faulty, first_sound, full_way_doubt, full_way_fault, listed

_ODD_PLACES = ("attic", "outdoors", "ground")


def judge_main(facts: Facts, limit: InForce | None, at_meter: bool) -> Outcome:
    """The main shutoff: full-way, in reach, nothing drawn off ahead of it. at_meter: one ahead of the meter is not it.

    Raises NotShown for what the plan could say.
    """
    found = first_sound(_candidates(facts, at_meter), lambda name: _main(name, facts, limit, at_meter))
    return found or _no_main(facts, limit)


def _candidates(facts: Facts, at_meter: bool) -> Iterator[str]:
    """The valve that has to be the main: an old one, or one ahead of the meter or outdoors, leaves it to the next."""
    for name in facts.shutoffs.mains:
        yield name
        placed = not (at_meter and _meter_behind(name, facts)) and _place_doubt(name, facts, at_meter) is None
        if facts.shutoffs.described(name).new and placed:
            return


def _place_doubt(main: str, facts: Facts, at_meter: bool) -> str | None:
    """What only a person on site can tell of a main in an attic or outdoors: near the entry, in reach; or None.

    at_meter: the family wants it at the meter's outlet, so that right behind the meter it stands where it should.
    """
    plan = facts.plan
    place = plan.places.get(plan.parts[main].place or "")
    if place is None or place.is_ not in _ODD_PLACES:
        return None
    if at_meter and place.is_ != "attic" and _right_behind_meter(main, facts):
        return None
    where = "in an attic" if place.is_ == "attic" else "outdoors"
    wanted = "at the meter's outlet" if at_meter else "near where the service comes into the house"
    return f"the main shutoff ({main}) is {where}: whether that is {wanted}, and one gets at it in a hurry"


def _right_behind_meter(main: str, facts: Facts) -> bool:
    """Whether the main stands behind a meter in the same place."""
    plan, number, zones = facts.plan, facts.network.number, facts.shutoffs.zones
    here = plan.parts[main].place
    meters = (part for part in plan.parts.values() if part.is_ == "meter" and part.work != "removed")
    return any(meter.place == here and zones.shuts(number[meter.id], number[main]) for meter in meters)


def _main(name: str, facts: Facts, limit: InForce | None, at_meter: bool) -> Outcome:
    valve = facts.shutoffs.described(name)
    if valve.style == "curb stop":
        return broken(
            f"Only the curb stop ({name}) shuts the house: it belongs to the street and wants a key.",
            "correction",
            limit=limit,
            found="a curb stop",
            needed="a full-way valve where the service comes in, in reach",
            mend="Put a full-way ball valve where the service comes into the house.",
            at=valve.style_path,
        )
    fault = full_way_fault(valve, f"The main shutoff ({name})")
    if fault is not None:
        return faulty(fault, limit, "correction")
    bare, valved = facts.shutoffs.ahead(name)
    if bare:
        return _drawn_ahead(name, bare, facts, limit)
    meter = _meter_behind(name, facts) if at_meter else None
    if meter is not None:
        return _ahead_of_meter(name, meter, valve, limit)
    doubt = full_way_doubt(valve, "the main shutoff") or _place_doubt(name, facts, at_meter)
    more = f"; ahead of it, by valves of their own: {listed(valved)}" if valved else ""
    return on_site(doubt) if doubt else holds(f"{name} shuts the house{more}")


def _no_main(facts: Facts, limit: InForce | None) -> Outcome:
    if not facts.zones.before and any(_is_loose(part, facts) for part in facts.plan.parts.values()):
        raise NotShown(("runs",), "which valve shuts the house: no water is traced to any")
    return broken(
        "No valve of the plan shuts the whole house.",
        "correction",
        limit=limit,
        found="no main shutoff",
        needed="a full-way valve where the service comes in, in reach",
        mend="Put a full-way ball valve right behind the meter or where the service comes in, before anything is drawn.",
    )


def _is_loose(part: Part, facts: Facts) -> bool:
    inside = facts.network.number.get(part.id)
    return isinstance(part.own, ValveOwn) and inside is not None and inside not in facts.traced.parents


def _drawn_ahead(main: str, bare: tuple[str, ...], facts: Facts, limit: InForce | None) -> Outcome:
    """What is drawn off between source and main without a valve on its branch."""
    if not any(is_new(facts.plan.parts[name.partition("/")[0]]) for name in bare):
        return on_site(f"existing {listed(bare)}: drawn off ahead of {main}; whether a valve shuts it")
    return broken(
        f"{listed(bare)}: drawn off ahead of the main shutoff ({main}), without a valve on the branch.",
        "correction",
        limit=limit,
        found=f"still wet with the main closed: {listed(bare)}",
        needed="nothing drawn off ahead of the main but through a valve of its own",
        mend=f"Take it off behind {main}, or put a ball valve on its branch, close to the tee.",
    )


def _ahead_of_meter(main: str, meter: str, valve: Described, limit: InForce | None) -> Outcome:
    if not valve.new:
        return on_site(f"existing main valve ahead of {meter}: whether a full-way valve stands at the meter's outlet")
    return broken(
        f"The main shutoff ({main}) stands ahead of {meter}, and no valve behind it shuts the house.",
        "correction",
        limit=limit,
        found=f"{main} ahead of {meter}",
        needed="a full-way valve at the meter's outlet",
        mend=f"Put a full-way ball valve right behind {meter}.",
    )


def _meter_behind(valve: str, facts: Facts) -> str | None:
    """The meter that the valve stands ahead of, or None."""
    zones, number = facts.shutoffs.zones, facts.network.number
    meters = (part.id for part in facts.plan.parts.values() if part.is_ == "meter" and part.work != "removed")
    return next((meter for meter in meters if zones.shuts(number[valve], number[meter])), None)
