"""Judging the ports of manifolds: closed, each dries all that hangs on it and leaves nothing wet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from plancheck.answers import broken, holds, is_new, on_site
from plancheck.facts import Facts
from plancheck.limits import NotShown
from plancheck.measures import Length
from plancheck.model import NONE, NOT_KNOWN, FixtureOwn, Part, Path, Port
from plancheck.outcomes import Outcome
from plancheck.portwalks import Step
from plancheck.valves import listed

NO_WATER = "no water is traced to it: a run is missing"
STEM = "whether its stem ends in the warm: then it needs no valve"
_RETURNS = ("pump", "check valve")
_EXACTLY = "a port valve dries exactly what hangs on its port"


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
    crossed = shutoffs.wet_across(name, hanging)
    if crossed:
        return _crossed(name, crossed, facts)
    names = listed(map(shutoffs.points().__getitem__, hanging))
    return holds(f"dries {names}" if hanging else "nothing that draws hangs on it")


def _port_path(name: str) -> Path:
    manifold, _, port = name.partition("/")
    return ("parts", manifold, "ports", port)


def _bare_port(part: Part, name: str, hanging: tuple[int, ...], facts: Facts) -> Outcome:
    bare = tuple(
        [one for one in facts.shutoffs.without_valve(name, hanging) if not is_frost_proof(_of(one, facts), facts)]
    )
    if not bare:
        return holds("no valve on the port, and all that hangs on it has its own")
    for one in bare:
        missing = facts.shutoffs.stop_missing(one)
        if missing is not None:
            raise NotShown(missing, "the stop of the outlet")
        if may_be_frost_proof(_of(one, facts), facts):
            raise NotShown(("parts", one.partition("/")[0], "stem"), STEM)
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


def _of(point: str, facts: Facts) -> Part:
    return facts.plan.parts[point.partition("/")[0]]


def is_frost_proof(part: Part, facts: Facts) -> bool:
    """Whether it is a hose outlet whose stem ends in the warm, under the family that asks no valve for those."""
    own = part.own
    return facts.family == "irc" and isinstance(own, FixtureOwn) and isinstance(own.stem, Length)


def may_be_frost_proof(part: Part, facts: Facts) -> bool:
    """Whether nobody says if its stem does, under that family."""
    own = part.own
    return facts.family == "irc" and part.is_ == "hose outlet" and isinstance(own, FixtureOwn) and own.stem != NONE


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
