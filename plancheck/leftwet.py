"""Judging the main and the ports of manifolds: closed, each dries all that it should and leaves nothing wet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from plancheck.answers import broken, holds, is_new, on_site
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.model import NONE, NOT_KNOWN, Part, Path, Port, ValveOwn
from plancheck.outcomes import Outcome
from plancheck.portwalks import Step
from plancheck.valves import Described, faulty, first_sound, full_way_doubt, full_way_fault, listed

NO_WATER = "no water is traced to it: a run is missing"
_RETURNS = ("pump", "check valve")
_EXACTLY = "a port valve dries exactly what hangs on its port"


def judge_main(facts: Facts, limit: InForce | None, at_meter: bool) -> Outcome:
    """The main shutoff: full-way, in reach, nothing drawn off ahead of it. at_meter: one ahead of the meter is not it.

    Raises NotShown for what the plan could say.
    """
    found = first_sound(_candidates(facts, at_meter), lambda name: _main(name, facts, limit, at_meter))
    return found or _no_main(facts, limit)


def _candidates(facts: Facts, at_meter: bool) -> Iterator[str]:
    """The valve that has to be the main: an old one, or one ahead of the meter, leaves it to the next behind it."""
    for name in facts.shutoffs.mains:
        yield name
        if facts.shutoffs.described(name).new and not (at_meter and _meter_behind(name, facts)):
            return


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
    doubt = full_way_doubt(valve, "the main shutoff")
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


def judge_port(part: Part, port: Port, facts: Facts) -> Outcome:
    """A port in use: its valve dries exactly what hangs on it. Raises NotShown for what the plan could say."""
    shutoffs, number, name = facts.shutoffs, facts.network.number, f"{part.id}/{port.id}"
    end, zones = number[name], shutoffs.zones_at(number[name])
    if zones is None:
        raise NotShown(("runs",), NO_WATER)
    if zones.shuts(end, number[f"{name}:row"]):
        return broken(
            f"Water comes into {part.id} through {name}: its valve dries all of the manifold.",
            "advice",
            found="the feed of the manifold",
            needed=_EXACTLY,
            mend="Call it the feed (use: feed), or turn the run round.",
        )
    hanging = shutoffs.ports.hanging(name)
    if port.valve == NONE:
        return _bare_port(part, name, hanging, facts)
    wet = shutoffs.still_wet(end, hanging)
    if port.valve in (None, NOT_KNOWN):
        if hanging and not wet and not shutoffs.without_valve(name, hanging):
            return holds("all that hangs on it has its own valve, whether the port has one or not")
        raise NotShown((*_port_path(name), "valve"), "the valve of the port")
    if wet and port.use == "onward":
        return holds("what is behind it is fed another way too")
    if wet:
        return _looped(part, port, wet, facts)
    if facts.traced.crossovers:
        crossed = shutoffs.still_wet(end, shutoffs.ports.crossed(name, hanging))
        if crossed:
            return _crossed(name, crossed, facts)
    names = listed(map(shutoffs.points().__getitem__, hanging))
    return holds(f"dries {names}" if hanging else "nothing that draws hangs on it")


def _port_path(name: str) -> Path:
    manifold, _, port = name.partition("/")
    return ("parts", manifold, "ports", port)


def _bare_port(part: Part, name: str, hanging: tuple[int, ...], facts: Facts) -> Outcome:
    bare = facts.shutoffs.without_valve(name, hanging)
    if not bare:
        return holds("no valve on the port, and all that hangs on it has its own")
    for one in bare:
        missing = facts.shutoffs.stop_missing(one)
        if missing is not None:
            raise NotShown(missing, "the stop of the outlet")
    if not is_new(part):
        return on_site(f"existing {name} has no valve, and {listed(bare)} none of its own")
    return broken(
        f"{name} has no valve, and not every outlet on it has one of its own: {listed(bare)}.",
        "advice",
        found="no valve",
        needed="a valve on the port, or at each outlet that hangs on it",
        mend=f"Put a ball valve on {name} with the name of what it shuts, or stops at {listed(bare)}.",
        at=(*_port_path(name), "valve"),
        cause=("parts", bare[0].partition("/")[0]),  # what nothing shuts alone is told there
    )


def _looped(part: Part, port: Port, wet: list[int], facts: Facts) -> Outcome:
    """A port whose valve does not dry what hangs on it, and the way water comes round."""
    ports, plan, name = facts.shutoffs.ports, facts.plan, f"{part.id}/{port.id}"
    behind = _last_leg(ports.way_round(facts.network.valves[name], wet[0]), name, facts)
    if behind and facts.shutoffs.is_port(behind[0][0]):
        by, mend = f", through {behind[0][0]}", f"Part {name} from {behind[0][0]}: each outlet on one port only."
    else:
        by, mend = "", "Find the way round, and part it."
    back = [one for one, _ in behind if one in plan.parts and plan.parts[one].is_ in _RETURNS]
    if back and facts.traced.returns:
        by = f", through {back[-1]}"
        mend = f"Put a valve at {back[-1]}, and write on {name} that both have to be closed."
    if not is_new(part) and not any(is_new(plan.runs[run]) for _, run in behind if run is not None):
        return on_site(f"existing {name}: water comes round another way{by}")
    first = ports.sharing(name)
    return _comes_round(name, wet, by, mend, _port_path(first) if first is not None else None, facts)


def _last_leg(way: Sequence[Step], name: str, facts: Facts) -> Sequence[Step]:
    """The way from the last other port on it; all of it where it passes none."""
    others = [place for place, (one, _) in enumerate(way) if one != name and facts.shutoffs.is_port(one)]
    return way[others[-1] :] if others else way


def _crossed(name: str, wet: list[int], facts: Facts) -> Outcome:
    """A port whose valve does not dry all because hot and cold are joined somewhere: that is the cause."""
    link = facts.traced.crossovers[0]
    cause = ("runs" if link in facts.plan.runs else "parts", link)
    return _comes_round(name, wet, f", through {link}", f"{link} joins hot and cold: take it out.", cause, facts)


def _comes_round(name: str, wet: Iterable[int], by: str, mend: str, cause: Path | None, facts: Facts) -> Outcome:
    sides = listed(facts.shutoffs.points()[point] for point in wet)
    return broken(
        f"Closing {name} does not dry {sides}: water comes round another way{by}.",
        "advice",
        found=f"still wet: {sides}",
        needed=_EXACTLY,
        mend=mend,
        cause=cause,
    )
