"""Every branch, outlet and the house itself can be shut off alone

Looks at: what goes dry when one valve closes. The main shutoff; the valve of each manifold port in use (it dries exactly
    what hangs on it); the heater's cold side; the stop of each fixture, appliance and hose outlet, or a labelled manifold
    valve that dries that one alone; tubs and showers. For every outlet also the next valve upstream.
Why: a washer that will not close, a hose that bursts, a tap to be changed: somebody looks for the valve, and it must be
    there, full-way where the whole house or the heater hangs on it, within reach, and shut off no more than it should.
To mend: give the outlet its own stop, or a valve of its own on the manifold with its name on it.
Cannot see: whether a valve still closes, whether somebody stored boxes before it, whether a label is still on.
Ask: which valves the code in force wants at fixtures and appliances differs by family: the inspector decides.
"""

from collections.abc import Iterator
from typing import NamedTuple

from plancheck.rulekit import (
    APPLIANCES,
    KINDS,
    NONE,
    NOT_KNOWN,
    TUBS_AND_SHOWERS,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Path,
    Port,
    Reach,
    Rule,
    Subject,
    Value,
    ValveOwn,
    broken,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

MAIN = Limit(
    "main",
    "the house has a main shutoff: full-way, in reach, near where the service comes in",
    "text",
    "",
    irc=(Value("accessible full-open valve near the entry", recalled("IRC", "2018", "P2903.9.1")),),
    ipc=(Value("full-open valve at the entry of the structure", printed("IPC", "", "606.1")),),
    upc=(Value("fullway valve at the meter outlet and for each building", printed("UPC", "", "606.2 (local text)")),),
    practice=(Value("a full-way main valve in reach", recalled("trade habit", "", "main shutoff"), practice=True),),
)
HEATER = Limit(
    "heater",
    "the heater's cold side has a full-way valve",
    "text",
    "",
    irc=(Value("full-open valve on the cold inlet near the heater", printed("IRC", "", "P2903.9.2")),),
    ipc=(Value("full-open valve at every heater", printed("IPC", "", "606.1")),),
    upc=(Value("fullway valve at the cold inlet", printed("UPC", "", "606.2 (local text)")),),
    practice=(Value("a full-way valve on the cold side", recalled("trade habit", "", "heater valve"), practice=True),),
)
FIXTURE = Limit(
    "fixture",
    "each fixture supply but tubs and showers has its own valve, at the fixture or labelled at the manifold",
    "text",
    "",
    irc=(Value("a valve on each fixture supply", printed("IRC", "", "P2903.9.3, P2903.8.5")),),
    upc=(Value("a control valve at fixture or manifold, marked", recalled("UPC", "", "606.5")),),
    practice=(Value("a stop at each fixture", recalled("trade habit", "", "fixture stops"), practice=True),),
)
APPLIANCE = Limit(
    "appliance",
    "each appliance and hose outlet has its own valve",
    "text",
    "",
    irc=(Value("a valve on each fixture supply", printed("IRC", "", "P2903.9.3")),),
    ipc=(Value("a valve at each sillcock and every appliance", printed("IPC", "", "606.2")),),
    upc=(Value("a control valve at each appliance", recalled("UPC", "", "606.5")),),
    practice=(Value("a valve at each appliance", recalled("trade habit", "", "appliance valves"), practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(MAIN, HEATER, FIXTURE, APPLIANCE))

_FULL_WAY = ("ball", "gate", "plug", "butterfly")
_THROTTLING = ("globe", "angle", "needle", "stop and waste", "saddle", "curb stop")


class House(NamedTuple):
    """The whole house: its main shutoff, by part, if the plan has one."""

    main: str | None


class PortOf(NamedTuple):
    """One port of a manifold that is in use."""

    manifold: str
    port: Port


class Side(NamedTuple):
    """One side of a fixture, appliance or hose outlet."""

    part: Part
    side: str


class Backup(NamedTuple):
    """Outlet sides whose next valve, after their own, is the main."""

    sides: tuple[str, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, its manifold ports in use, heaters, and every outlet side."""
    main = facts.main_valve
    yield Subject(("parts", main) if main else ("parts",), "the main shutoff", None, House(main))
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        if isinstance(part.own, ManifoldOwn):
            yield from _ports(part, part.own, facts)
        elif isinstance(part.own, HeaterOwn):
            yield Subject(("parts", part.id), f"the cold side of {facts.part_name(part.id)}", part.place, part)
        elif KINDS[part.is_].sort == "fixture" and part.is_ != "rest of house":
            for side in KINDS[part.is_].connections:
                if _is_joined(f"{part.id}/{side}", facts):
                    name = f"{facts.part_name(part.id)}, {side}"
                    yield Subject(("parts", part.id), name, part.place, Side(part, side))
    if facts.zones.before:
        sides = _only_main_behind(facts)
        yield Subject(("parts", main) if main else ("parts",), "the valve behind the first", None, Backup(sides))


def _ports(part: Part, own: ManifoldOwn, facts: Facts) -> Iterator[Subject]:
    for port in own.ports.values():
        if port.use in ("circuit", "onward") and _is_joined(f"{part.id}/{port.id}", facts):
            path: Path = ("parts", part.id, "ports", port.id)
            yield Subject(path, f"port {part.id}/{port.id}", part.place, PortOf(part.id, port))


def _is_joined(connection: str, facts: Facts) -> bool:
    """Whether anything is joined to the connection from outside the part."""
    return len(facts.network.touching[facts.network.number[connection]]) > 1


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question of the five, by what the subject is."""
    thing = subject.thing
    if isinstance(thing, House):
        return _main(thing, facts, limits)
    if isinstance(thing, PortOf):
        return _port(subject, thing, facts)
    if isinstance(thing, Backup):
        return _backup(thing, facts)
    if isinstance(thing, Side):
        return _side(subject, thing, facts, limits)
    return _heater(subject, thing, facts, limits)


def _only_main_behind(facts: Facts) -> tuple[str, ...]:
    main = facts.main_valve
    found = []
    for side, valves in facts.zones.before.items():
        kind = facts.plan.parts[side.partition("/")[0]].is_
        own = kind in TUBS_AND_SHOWERS or facts.zones.dry[valves[0]] == (side,) if valves else False
        if own and len(valves) > 1 and valves[1] == main:
            found.append(side)
    return tuple(found)


def _backup(thing: Backup, facts: Facts) -> Outcome:
    if not thing.sides:
        return holds("behind the valve of each outlet stands another one before the main")
    return broken(
        f"Should the first valve not close, the next one is the main of the house for {_listed(thing.sides)}.",
        "advice",
        found="only the main behind the first valve",
        needed="nothing by code; a zone valve between would leave the rest of the house its water",
        why="On the day a stop or port valve will not close, the whole house goes dry until it is changed.",
        mend="Put a valve on the branch or before the manifold, where one zone of the house can do without for a day.",
        ask="No code asks for it.",
    )


def _listed(names: tuple[str, ...]) -> str:
    shown = ", ".join(names[:6])
    return f"{shown} and {len(names) - 6} more" if len(names) > 6 else shown


def _main(thing: House, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.maybe(MAIN)
    if thing.main is None:
        return broken(
            "No valve of the plan shuts the whole house.",
            "correction",
            limit=limit,
            found="no main shutoff",
            needed="a full-way valve where the service comes in, in reach",
            mend="Put a full-way ball valve right behind the meter or where the service comes in, before anything is drawn.",
        )
    part = facts.plan.parts[thing.main]
    if part.reach is not None and _no_reach(part.reach):
        return broken(
            f"The main shutoff ({thing.main}) cannot be reached.",
            "correction",
            limit=limit,
            found="reach: none",
            needed="open, or behind a panel",
            mend="Open the place up, or move the valve where a hand gets at it in an emergency.",
            at=("parts", thing.main, "reach"),
        )
    odd = _not_full_way(part)
    if odd is not None:
        if not is_new(part):
            return on_site(f"existing main valve ({odd}): whether it opens full-way and still closes")
        return broken(
            f"The main shutoff is a {odd} valve, which is not full-way.",
            "correction",
            limit=limit,
            found=f"a {odd} valve",
            needed="a full-way valve (ball or gate)",
            mend="Use a full-port ball valve.",
            at=("parts", thing.main, "style"),
        )
    if part.reach is None or part.reach == NOT_KNOWN:
        raise NotShown(("parts", thing.main, "reach"), "how one gets at the main shutoff")
    if isinstance(part.own, ValveOwn) and part.own.style in (None, NOT_KNOWN):
        raise NotShown(("parts", thing.main, "style"), "what kind of valve the main shutoff is")
    return holds(f"{thing.main} shuts the house")


def _no_reach(reach: Reach | str) -> bool:
    return reach == NONE or (isinstance(reach, Reach) and reach.kind == NONE)


def _not_full_way(part: Part) -> str | None:
    style = part.own.style if isinstance(part.own, ValveOwn) else None
    return style if style in _THROTTLING else None


def _port(subject: Subject, thing: PortOf, facts: Facts) -> Outcome:
    name = f"{thing.manifold}/{thing.port.id}"
    if facts.traced.services.get(facts.network.number[name]) is None:
        raise NotShown(("runs",), "how water comes to the manifold")
    hanging = _hanging(facts, name)
    if thing.port.valve == NONE:
        return _port_without_valve(subject, name, hanging, facts)
    if thing.port.valve in (None, NOT_KNOWN):
        raise NotShown((*subject.path, "valve"), "the valve of the port")
    dry = set(facts.zones.dry.get(name, ()))
    if dry == hanging:
        return holds(f"dries {_listed(tuple(sorted(dry)))}" if dry else "nothing hangs on it yet")
    left = sorted(hanging - dry)
    link = ", ".join(facts.traced.crossovers)
    joined = f" {link} joins hot and cold: take it out first." if link else ""
    return broken(
        f"Closing {name} does not dry {_listed(tuple(left))}: water comes round another way.",
        "advice",
        found=f"still wet: {_listed(tuple(left))}",
        needed="a port valve dries exactly what hangs on its port",
        mend=f"Find where this circuit is joined to another one, and part them.{joined}",
        cause=_partner(subject, name, facts),
    )


def _port_without_valve(subject: Subject, name: str, hanging: set[str], facts: Facts) -> Outcome:
    if hanging and all(side in facts.network.valves for side in hanging):
        return holds("no valve on the port; every outlet on it has its own stop")
    return broken(
        f"{name} has no valve, and not every outlet on it has a stop of its own.",
        "advice",
        found="no valve",
        needed="a valve on each port in use",
        mend="Put a ball valve on the port, with the name of what it shuts.",
        at=(*subject.path, "valve"),
    )


def _hanging(facts: Facts, name: str) -> set[str]:
    """The outlet sides reached outward through the port, heater passed, without coming back to its manifold."""
    graph = facts.network
    start = graph.number[name]
    own = name.partition("/")[0]
    seen, frontier = {start}, [start]
    for vertex in frontier:
        for number in graph.touching[vertex]:
            a, b, _, one_way = graph.edges[number]
            other = b if a == vertex else a
            if other in seen or (one_way and other == a):
                continue
            if graph.names[other].partition("/")[0] == own and graph.names[other] != name:
                continue
            seen.add(other)
            frontier.append(other)
    return {side for side, tap in graph.outlets.items() if tap in seen}


def _partner(subject: Subject, name: str, facts: Facts) -> Path | None:
    """The first port of the manifold that hangs on the same loop: it speaks, the others follow."""
    manifold = name.partition("/")[0]
    mine = _hanging(facts, name)
    own = facts.plan.parts[manifold].own
    for port in own.ports.values() if isinstance(own, ManifoldOwn) else ():
        other = f"{manifold}/{port.id}"
        if other == name:
            return None
        if port.use == "circuit" and other in facts.network.number and _hanging(facts, other) & mine:
            return ("parts", manifold, "ports", port.id)
    return None


def _heater(subject: Subject, heater: Part, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.maybe(HEATER)
    graph, zones = facts.network, facts.zones
    inside = graph.number[heater.id]
    if inside not in zones.entered:
        raise NotShown(("runs",), f"how cold water comes to {heater.id}")
    fed = {side for side, tap in graph.outlets.items() if zones.shuts(inside, tap)}
    near = [name for name in _valves_over(facts, inside) if set(zones.dry[name]) <= fed and name != facts.main_valve]
    if not near:
        _port_valve_not_said(facts, inside)
        return broken(
            f"No valve shuts {facts.part_name(heater.id)} off alone.",
            "correction",
            limit=limit,
            found="none that dries the heater and no more",
            needed="a full-way valve on its cold side",
            mend="Put a full-way ball valve on the cold pipe near the heater, before the expansion tank's tee.",
        )
    part = facts.plan.parts.get(near[0])
    if part is not None and is_new(part) and all(_style_is_poor(facts, name) for name in near):
        return broken(
            f"The heater's valve ({near[0]}) is a {_not_full_way(part)} valve, which is not full-way.",
            "correction",
            limit=limit,
            found=f"a {_not_full_way(part)} valve",
            needed="a full-way valve (ball or gate)",
            mend="Use a full-port ball valve.",
            at=("parts", near[0], "style"),
        )
    return holds(f"{near[0]} shuts it; next {near[1] if len(near) > 1 else facts.main_valve or 'none'}")


def _port_valve_not_said(facts: Facts, vertex: int) -> None:
    """Raises NotShown where the water comes through a manifold port whose valve the plan does not speak of."""
    number, zones = facts.network.number, facts.zones
    for part in facts.plan.parts.values():
        for port in part.own.ports.values() if isinstance(part.own, ManifoldOwn) else ():
            end = number.get(f"{part.id}/{port.id}")
            unsaid = port.use in ("circuit", "onward") and port.valve in (None, NOT_KNOWN)
            if unsaid and end is not None and zones.shuts(end, vertex):
                raise NotShown(("parts", part.id, "ports", port.id, "valve"), "the valve of the port")


def _valves_over(facts: Facts, vertex: int) -> list[str]:
    zones = facts.zones
    over = [(zones.entered[v], name) for name, v in facts.network.valves.items() if zones.shuts(v, vertex)]
    return [name for _, name in sorted(over, reverse=True)]


def _style_is_poor(facts: Facts, name: str) -> bool:
    part = facts.plan.parts.get(name)
    return part is not None and _not_full_way(part) is not None


def _side(subject: Subject, thing: Side, facts: Facts, limits: Limits) -> Outcome:
    name = f"{thing.part.id}/{thing.side}"
    if name not in facts.zones.before:
        raise NotShown(("runs",), f"how water comes to {name}")
    valves = facts.zones.before[name]
    main = facts.main_valve
    own = [valve for valve in valves if facts.zones.dry[valve] == (name,) and valve != main]
    after = f"; next {valves[valves.index(own[0]) + 1]}" if own and valves.index(own[0]) + 1 < len(valves) else ""
    if thing.part.is_ in TUBS_AND_SHOWERS:
        return _tub(thing, name, valves, facts)
    if own and _named(own[0], facts):
        return holds(f"{own[0]} shuts it alone{after}")
    alone = _alone_by_manifold(thing, facts, valves)
    if alone is not None:
        return holds(f"{alone} shuts it alone")
    supply = facts.stop_of(name)
    if supply in (None, NOT_KNOWN) and thing.part.is_ != "hose outlet":
        raise NotShown(("parts", thing.part.id, "supply", "stop"), "the stop of the outlet")
    _port_valve_not_said(facts, facts.network.outlets[name])
    limit = limits.maybe(APPLIANCE if thing.part.is_ in APPLIANCES or thing.part.is_ == "hose outlet" else FIXTURE)
    if limit is None:
        return holds("this code asks for no stop here")
    if not is_new(thing.part):
        return on_site("existing outlet: whether it has a stop that closes")
    return broken(
        f"{subject.name}: no valve shuts it alone; the nearest is {valves[0] if valves else 'none'}.",
        "correction",
        limit=limit,
        found=f"nearest valve {valves[0]}" if valves else "no valve",
        needed="its own stop, or a labelled manifold valve that dries it alone",
        mend="Fit a stop at the outlet, or feed it from a manifold port of its own with its name on it.",
    )


def _named(valve: str, facts: Facts) -> bool:
    """A stop or valve at the outlet needs no name; a manifold's valve does."""
    manifold, _, port = valve.partition("/")
    own = facts.plan.parts[manifold].own
    return not isinstance(own, ManifoldOwn) or own.ports[port].label not in (None, NONE, NOT_KNOWN)


def _alone_by_manifold(thing: Side, facts: Facts, valves: tuple[str, ...]) -> str | None:
    """A labelled valve that dries this fixture's side and nothing of another fixture."""
    for valve in valves:
        parts = {side.partition("/")[0] for side in facts.zones.dry[valve]}
        if parts == {thing.part.id} and _named(valve, facts):
            return valve
    return None


def _tub(thing: Side, name: str, valves: tuple[str, ...], facts: Facts) -> Outcome:
    useful = [valve for valve in valves if valve != facts.main_valve]
    if useful:
        return holds(f"{useful[0]} stops it")
    _port_valve_not_said(facts, facts.network.outlets[name])
    return broken(
        f"{facts.part_name(thing.part.id)}, {thing.side}: only the main of the house stops it.",
        "advice",
        found="only the main",
        needed="nothing by code; a valve nearer than the main",
        mend="Choose a valve body with stops built in, or put a valve on the branch.",
        ask="No code asks for it.",
    )
