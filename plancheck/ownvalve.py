"""Judging the valve of one heater or outlet side: it dries that alone; at tubs and showers it is nearer than the main."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plancheck.answers import broken, holds, is_new, on_site
from plancheck.building.refs import side_supply
from plancheck.facts import Facts
from plancheck.leftwet import NO_WATER, STEM
from plancheck.limits import InForce, NotShown
from plancheck.model import NONE, Part
from plancheck.outcomes import BROKEN, HOLDS, Outcome
from plancheck.shutoffs import Chain
from plancheck.valves import (
    faulty,
    first_sound,
    full_way_doubt,
    full_way_fault,
    listed,
    narrow_way,
    next_behind,
    reach_word,
    shut_in,
    unlabelled,
)

NO_CODE = "No code asks for it."
_FIT = "Fit a stop at the outlet"
_FIT_HOSE = "Put a ball valve on its branch, inside the house"


def is_alone(part: str, sides: Iterable[str]) -> bool:
    """Whether all the outlet sides (`part/side`) are of this part."""
    own = f"{part}/"
    return all(side.startswith(own) for side in sides)


def _chain(side: str, facts: Facts) -> Chain:
    """The valves before an outlet side. Raises NotShown where no water comes to it."""
    chain = facts.shutoffs.chain_of_side(side)
    if chain is None:
        raise NotShown(("runs",), NO_WATER)
    return chain


def held_by_stop(part: Part, side: str, facts: Facts) -> Outcome | None:
    """The plain case, told quickly: the side has a stop of its own, which is not shut in. None: ask `judge_side`."""
    name = f"{part.id}/{side}"
    chain = facts.shutoffs.chain_of_side(name)
    if chain is None or chain.valves[:1] != (name,):
        return None
    supply = side_supply(part, side)
    if supply is not None and supply.reach is not None and reach_word(supply.reach) == NONE:
        return None
    return holds(f"{name} shuts it alone; {next_behind(name, chain.valves)}")


def judge_side(
    part: Part, side: str, facts: Facts, limit: InForce | None, severity: str, stem_helps: bool = False
) -> Outcome:
    """A side of a fixture, appliance or hose outlet: its own stop, or a labelled manifold valve that dries it alone.

    stem_helps: a frost-proof stem that the plan does not tell of would free it. Raises NotShown for what is missing.
    """
    name = f"{part.id}/{side}"
    chain = _chain(name, facts)
    own = _valves_alone(part.id, chain, facts.shutoffs.mains)
    answer = first_sound(own, lambda one: _own_valve(one, chain.valves, facts, limit, severity))
    if answer is not None and answer.kind == HOLDS:
        return answer
    if not is_new(part):
        return on_site(f"existing {facts.part_name(part.id)}: whether a valve shuts its {side} side alone")
    missing = facts.shutoffs.stop_missing(name)
    if missing is not None:
        raise NotShown(missing, "the stop of the outlet")
    for path, vertex in facts.shutoffs.unsaid_ports(facts.network.outlets[name]):
        if is_alone(part.id, facts.shutoffs.dried(chain.zones, vertex)):
            raise NotShown(path, "the valve of the port")
    if answer is None and stem_helps:
        raise NotShown(("parts", part.id, "stem"), STEM)
    return answer or _no_valve(name, part, chain, facts, limit, severity)


def _valves_alone(part: str, chain: Chain, mains: tuple[str, ...]) -> Iterator[str]:
    """The valves that dry the part alone, nearest first; one farther off never dries less than one nearer."""
    for name in chain.valves:
        if name not in mains:
            if not is_alone(part, chain.zones.dry[name]):
                return
            yield name


def _own_valve(name: str, valves: tuple[str, ...], facts: Facts, limit: InForce | None, severity: str) -> Outcome:
    valve = facts.shutoffs.described(name)
    if valve.reach == NONE:
        return faulty(shut_in(valve, f"{name}, the only valve that shuts it alone,"), limit, severity)
    return unlabelled(name, valve, limit, severity) or holds(f"{name} shuts it alone; {next_behind(name, valves)}")


def _no_valve(name: str, part: Part, chain: Chain, facts: Facts, limit: InForce | None, severity: str) -> Outcome:
    shutoffs, mains = facts.shutoffs, facts.shutoffs.mains
    drawn_ahead = bool(mains) and name in shutoffs.ahead(mains[0])[0]
    port = "feed it from a manifold port of its own with its name on it"
    for bare, vertex in shutoffs.bare_ports(facts.network.outlets[name]):
        if is_alone(part.id, shutoffs.dried(chain.zones, vertex)):
            port = f"put a ball valve on {bare} with its name on it"
    return broken(
        f"{name}: no valve shuts it alone; {_nearest(name, chain, mains)}.",
        severity,
        limit=limit,
        found=f"nearest valve {chain.valves[0]}" if chain.valves else "no valve",
        needed="its own stop, or a labelled manifold valve that dries it alone",
        mend=f"{_FIT_HOSE if part.is_ == 'hose outlet' else _FIT}, or {port}.",
        cause=("parts", mains[0]) if drawn_ahead else ("parts", part.id) if name.endswith("/hot") else None,
    )


def _nearest(name: str, chain: Chain, mains: tuple[str, ...]) -> str:
    if not chain.valves:
        return "there is none before it"
    first = chain.valves[0]
    if first in mains:
        return f"the nearest is the main ({first})"
    others = listed(one for one in chain.zones.dry[first] if one != name)
    return f"the nearest is {first}, which also dries {others}; {next_behind(first, chain.valves)}"


def judge_tub(part: Part, side: str, facts: Facts) -> Outcome:
    """A side of a tub or shower: a valve nearer than the main, and on the hot side not just the heater's.

    Raises NotShown for what the plan could say.
    """
    shutoffs, graph, name = facts.shutoffs, facts.network, f"{part.id}/{side}"
    chain = _chain(name, facts)
    hot = side == "hot"  # a valve ahead of the heater is no more help than the main
    for one in chain.valves:
        if one not in shutoffs.mains and not (hot and shutoffs.before_heater(graph.valves[one])):
            return holds(f"{one} stops it; {next_behind(one, chain.valves)}")
    for path, vertex in shutoffs.unsaid_ports(graph.outlets[name]):
        if not (hot and shutoffs.before_heater(vertex)):
            raise NotShown(path, "the valve of the port")
    if not is_new(part):
        return on_site(f"existing {facts.part_name(part.id)}: whether its {side} side has a stop")
    missing = shutoffs.stop_missing(name)
    if missing is not None:
        raise NotShown(missing, "whether the valve has stops built in (stop: integral)")
    stands = f"the nearest is {chain.valves[0]}" if chain.valves else "there is no valve at all"
    return broken(
        f"{facts.part_name(part.id)}, {side}: only the main of the house or the heater's valve stops it; {stands}.",
        "advice",
        found=f"nearest valve {chain.valves[0]}" if chain.valves else "no valve",
        needed="nothing by code; a valve nearer than the main",
        mend="Choose a valve body with stops built in, or put a ball valve on the branch where it can be reached.",
        ask=NO_CODE,
    )


def judge_heater(heater: Part, facts: Facts, limit: InForce | None, near: bool) -> Outcome:
    """The heater's cold side: a full-way valve in reach that dries the heater and what it feeds.

    near: it has to stand at the heater, so that one farther off does not excuse a narrow one there. Raises NotShown for
    what the plan could say.
    """
    shutoffs, inlet = facts.shutoffs, facts.network.number[f"{heater.id}/cold"]
    chain = shutoffs.chain(inlet)
    if chain is None:
        raise NotShown(("runs",), NO_WATER)
    own = tuple(_valves_of_heater(heater.id, chain, facts))
    narrow = _narrow(own[0], heater, facts, limit) if near and own else None
    answer = narrow or first_sound(own, lambda name: _heater_valve(name, heater, chain.valves, facts, limit, near))
    answer = answer or _no_heater_valve(heater, chain.valves, facts, limit)
    if answer.kind != BROKEN:
        return answer
    for path, vertex in shutoffs.unsaid_ports(inlet) if narrow is None else ():
        if shutoffs.heater_alone(heater.id, vertex, chain.zones):
            raise NotShown(path, "the valve of the port")
    return answer if is_new(heater) else on_site(f"existing heater: {answer.says}")


def _valves_of_heater(heater: str, chain: Chain, facts: Facts) -> Iterator[str]:
    """The valves that dry the heater and what it feeds, and nothing else, nearest first."""
    shutoffs, valves = facts.shutoffs, facts.network.valves
    for name in chain.valves:
        if name not in shutoffs.mains:
            if not shutoffs.heater_alone(heater, valves[name], chain.zones):
                return
            yield name


def _narrow(name: str, heater: Part, facts: Facts, limit: InForce | None) -> Outcome | None:
    """The finding on a valve at the heater that is not full-way."""
    fault = narrow_way(facts.shutoffs.described(name), f"The heater's valve ({name})")
    return faulty(fault, limit, "correction") if fault is not None and _is_near(name, heater, facts) else None


def _is_near(valve: str, heater: Part, facts: Facts) -> bool:
    """Whether nothing in the plan speaks against the valve standing near the heater: in one place, as far as is said."""
    place = facts.plan.parts[valve.partition("/")[0]].place
    return place is None or heater.place is None or place == heater.place


def _heater_valve(
    name: str, heater: Part, valves: tuple[str, ...], facts: Facts, limit: InForce | None, near: bool
) -> Outcome:
    valve = facts.shutoffs.described(name)
    fault = full_way_fault(valve, f"The heater's valve ({name})")
    if fault is not None:
        return faulty(fault, limit, "correction")
    bare = unlabelled(name, valve, limit, "correction")
    if bare is not None:
        return bare
    doubt = full_way_doubt(valve, f"the heater's valve ({name})")
    if doubt is None and near and not _is_near(name, heater, facts):
        doubt = f"{name} shuts {facts.part_name(heater.id)} from another place: whether that is near enough to it"
    return on_site(doubt) if doubt else holds(f"{name} shuts it; {next_behind(name, valves)}")


def _no_heater_valve(heater: Part, valves: tuple[str, ...], facts: Facts, limit: InForce | None) -> Outcome:
    return broken(
        f"No valve shuts {facts.part_name(heater.id)} off alone.",
        "correction",
        limit=limit,
        found=f"the nearest, {valves[0]}, dries more" if valves else "no valve",
        needed="a full-way valve on its cold side that dries the heater and what it feeds",
        mend="Put a full-way ball valve on the cold pipe near the heater, before the expansion tank's tee.",
    )
