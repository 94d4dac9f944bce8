"""Every branch, outlet and the house itself can be shut off alone

Looks at: what goes dry when one valve closes. The main shutoff; the valve of each manifold port in use (it dries exactly
    what hangs on it); the heater's cold side; the stop of each fixture, appliance and hose outlet, or a labelled manifold
    valve that dries that one alone; tubs and showers. For every outlet also the next valve upstream, for the day the
    first will not close. A plain tee branch needs no valve of its own and is not judged.
Why: a washer that will not close, a hose that bursts, a tap to be changed: somebody looks for the valve, and it must be
    there, full-way where the whole house or the heater hangs on it, within reach, and shut off no more than it should.
To mend: give the outlet its own stop, or a valve of its own on the manifold with its name on it.
Cannot see: whether a valve still closes, whether a ball valve is full-port, whether somebody stored boxes before it,
    whether a label is still on.
Ask: which valves the code in force wants at fixtures and appliances differs by family: the inspector decides.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from plancheck.rulekit import (
    APPLIANCES,
    BROKEN,
    HOLDS,
    KINDS,
    NONE,
    NOT_KNOWN,
    ON_SITE,
    PRACTICE,
    TUBS_AND_SHOWERS,
    Chain,
    Described,
    Facts,
    Fault,
    FixtureOwn,
    HeaterOwn,
    InForce,
    Length,
    Limit,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Path,
    Port,
    Rule,
    Subject,
    Value,
    ValveOwn,
    broken,
    full_way_doubt,
    full_way_fault,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
    shut_in,
)


def _demand(id_: str, title: str, habit: str, irc: Value, ipc: Value | None, upc: Value | None) -> Limit:
    """A demand without a number: what each family asks for, and what is habit where one asks nothing."""
    practice = (Value(habit, PRACTICE, practice=True),)
    return Limit(id_, title, "text", "", (irc,), (ipc,) if ipc else (), (upc,) if upc else (), practice)


MAIN = _demand(
    "main",
    "the house has a main shutoff: full-way, in reach, near where the service comes in",
    "a full-way main valve in reach",
    Value("accessible full-open valve near the entry", recalled("IRC", "2018", "P2903.9.1")),
    Value("full-open valve at the entry of the structure", printed("IPC", "", "606.1")),
    Value("fullway valve at the meter outlet and for each building", printed("UPC", "", "606.2 (local text)")),
)
HEATER = _demand(
    "heater",
    "the heater's cold side has a full-way valve",
    "a full-way valve on the cold side",
    Value("full-open valve on the cold inlet near the heater", printed("IRC", "", "P2903.9.2")),
    Value("full-open valve at every heater", printed("IPC", "", "606.1")),
    Value("fullway valve at the cold inlet", printed("UPC", "", "606.2 (local text)")),
)
FIXTURE = _demand(
    "fixture",
    "each fixture supply but tubs and showers has its own valve, at the fixture or labelled at the manifold",
    "a stop at each fixture",
    Value("a valve on each fixture supply", printed("IRC", "", "P2903.9.3, P2903.8.5")),
    None,
    Value("a control valve at fixture or manifold, marked", recalled("UPC", "", "606.5")),
)
APPLIANCE = _demand(
    "appliance",
    "each appliance has its own valve",
    "a valve at each appliance",
    Value("a valve on each fixture supply", printed("IRC", "", "P2903.9.3")),
    Value("a valve at every appliance", printed("IPC", "", "606.2")),
    Value("a control valve at each appliance", recalled("UPC", "", "606.5")),
)
HOSE = _demand(
    "hose",
    "each hose outlet has its own valve",
    "a valve for each hose outlet",
    Value("a valve on each fixture supply", printed("IRC", "", "P2903.9.3")),
    Value("a valve at each sillcock", printed("IPC", "", "606.2")),
    Value("where manifolds feed single lines, a valve at fixture or manifold, marked", recalled("UPC", "", "606.5")),
)
FROST_PROOF = _demand(
    "frost_proof",
    "a frost-proof hose outlet whose stem ends in the warm",
    "a valve for each hose outlet",
    Value("needs no valve of its own", recalled("IRC", "2018", "P2903.10"), practice=True),
    None,
    None,
)
RULE = Rule(highest="correction", stage="layout", limits=(MAIN, HEATER, FIXTURE, APPLIANCE, HOSE, FROST_PROOF))

_NO_WATER = "no water is traced to it: a run is missing"
_SHOWN = 6  # names in one sentence
_RETURNS = ("pump", "check valve")
_EXACTLY = "a port valve dries exactly what hangs on its port"
_NO_CODE = "No code asks for it."
_FIT = "Fit a stop at the outlet"
_FIT_HOSE = "Put a ball valve on its branch, inside the house"


class Asked(NamedTuple):
    """One question: who answers it, and what it is about: nothing for the house; a part; a part and its port or side."""

    answer: Callable[..., Outcome]
    about: tuple[Part | Port | str, ...] = ()


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, its manifold ports in use, heaters, every side of every outlet, and once what stands behind them."""
    mains = facts.shutoffs.mains
    path: Path = ("parts", *mains[:1])
    place = facts.plan.parts[mains[0]].place if mains else None
    yield Subject(path, "the main shutoff", place, Asked(_main))
    outlets = False
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        if isinstance(part.own, ManifoldOwn):
            yield from _ports(part, part.own, facts)
        elif isinstance(part.own, HeaterOwn):
            name = f"the cold side of {facts.part_name(part.id)}"
            yield Subject(("parts", part.id), name, part.place, Asked(_heater, (part,)))
        elif isinstance(part.own, FixtureOwn):
            outlets = True
            yield from _sides(part, part.own, facts)
    if mains and outlets:  # its own path, so that waiving it waives nothing else of the main
        yield Subject((*path, "is"), "the valve behind the first", place, Asked(_behind))


def _ports(part: Part, own: ManifoldOwn, facts: Facts) -> Iterator[Subject]:
    for port in own.ports.values():
        if port.use in ("circuit", "onward", "spare") and _is_joined(f"{part.id}/{port.id}", facts):
            path: Path = ("parts", part.id, "ports", port.id)
            yield Subject(path, f"port {part.id}/{port.id}", part.place, Asked(_port, (part, port)))


def _sides(part: Part, own: FixtureOwn, facts: Facts) -> Iterator[Subject]:
    sides = KINDS[part.is_].connections
    for side in sides:
        if (own.hot if side == "hot" else own.cold) == NONE and not _is_joined(f"{part.id}/{side}", facts):
            continue  # the plan says there is no such side
        name = f"{facts.part_name(part.id)}, {side}" if len(sides) > 1 else facts.part_name(part.id)
        answer = _tub if part.is_ in TUBS_AND_SHOWERS else _side
        yield Subject(("parts", part.id), name, part.place, Asked(answer, (part, side)))


def _is_joined(connection: str, facts: Facts) -> bool:
    """Whether anything is joined to the connection from outside the part."""
    return len(facts.network.touching[facts.network.number[connection]]) > 1


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question, by what the subject asks."""
    asked: Asked = subject.thing
    return asked.answer(*asked.about, facts, limits)


def _no_main(facts: Facts, limits: Limits) -> Outcome:
    if not facts.zones.before and any(_is_loose(part, facts) for part in facts.plan.parts.values()):
        raise NotShown(("runs",), "which valve shuts the house: no water is traced to any")
    return broken(
        "No valve of the plan shuts the whole house.",
        "correction",
        limit=limits.maybe(MAIN),
        found="no main shutoff",
        needed="a full-way valve where the service comes in, in reach",
        mend="Put a full-way ball valve right behind the meter or where the service comes in, before anything is drawn.",
    )


def _is_loose(part: Part, facts: Facts) -> bool:
    inside = facts.network.number.get(part.id)
    return isinstance(part.own, ValveOwn) and inside is not None and inside not in facts.traced.parents


def _main(facts: Facts, limits: Limits) -> Outcome:
    limit = limits.maybe(MAIN)
    return _first_sound(_main_valves(facts), lambda name: _main_valve(name, facts, limit)) or _no_main(facts, limits)


def _main_valves(facts: Facts) -> Iterator[str]:
    """The valve that has to be the main: an old one, or one ahead of the meter, leaves it to the next behind it."""
    for name in facts.shutoffs.mains:
        yield name
        if facts.shutoffs.described(name).new and not _meter_behind(name, facts):
            return


def _main_valve(name: str, facts: Facts, limit: InForce | None) -> Outcome:
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
        return _fault(fault, limit, "correction")
    known = _ahead(name, facts, limit) or _ahead_of_meter(name, valve, facts, limit)
    if known is not None:
        return known
    doubt = full_way_doubt(valve, "the main shutoff")
    valved = facts.shutoffs.ahead(name).valved
    more = f"; ahead of it, by valves of their own: {_listed(valved)}" if valved else ""
    return on_site(doubt) if doubt else holds(f"{name} shuts the house{more}")


def _ahead(main: str, facts: Facts, limit: InForce | None) -> Outcome | None:
    """What is drawn off between source and main without a valve on its branch."""
    bare = facts.shutoffs.ahead(main).bare
    if not bare:
        return None
    if not any(is_new(facts.plan.parts[name.partition("/")[0]]) for name in bare):
        return on_site(f"existing {_listed(bare)}: drawn off ahead of {main}; whether a valve shuts it")
    return broken(
        f"{_listed(bare)}: drawn off ahead of the main shutoff ({main}), without a valve on the branch.",
        "correction",
        limit=limit,
        found=f"still wet with the main closed: {_listed(bare)}",
        needed="nothing drawn off ahead of the main but through a valve of its own",
        mend=f"Take it off behind {main}, or put a ball valve on its branch, close to the tee.",
    )


def _ahead_of_meter(main: str, valve: Described, facts: Facts, limit: InForce | None) -> Outcome | None:
    """The UPC wants a valve on the meter's outlet; one ahead of the meter is not it."""
    meter = _meter_behind(main, facts)
    if meter is None:
        return None
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
    """The meter whose outlet the code asks a valve at, where the valve stands ahead of it."""
    if facts.family != "upc":
        return None
    zones, number = facts.shutoffs.zones, facts.network.number
    meters = (part.id for part in facts.plan.parts.values() if part.is_ == "meter" and part.work != "removed")
    return next((meter for meter in meters if zones.shuts(number[valve], number[meter])), None)


def _first_sound(names: Iterable[str], judge: Callable[[str], Outcome]) -> Outcome | None:
    """The answer for the first valve that will do; else what is missing, a look on site, the first fault; None of none."""
    missing: NotShown | None = None
    answers: list[Outcome] = []
    for name in names:
        try:
            answer = judge(name)
        except NotShown as one:
            missing = missing or one
            continue
        if answer.kind == HOLDS:
            return answer
        answers.append(answer)
    if missing is not None:
        raise missing
    return min(answers, key=lambda one: one.kind != ON_SITE, default=None)


def _fault(fault: Fault, limit: InForce | None, severity: str) -> Outcome:
    found, needed, mend, at = fault[1:]
    return broken(fault.says, severity, limit=limit, found=found, needed=needed, mend=mend, at=at)


def _heater(heater: Part, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, limit = facts.shutoffs, limits.maybe(HEATER)
    inlet, valves = facts.network.number[f"{heater.id}/cold"], facts.network.valves
    chain = shutoffs.chain(inlet)
    if chain is None:
        raise NotShown(("runs",), _NO_WATER)
    names = (
        name
        for name in chain.valves
        if name not in shutoffs.mains and shutoffs.heater_alone(heater.id, valves[name], chain.zones)
    )
    answer = _first_sound(names, lambda name: _heater_valve(name, chain.valves, facts, limit)) or broken(
        f"No valve shuts {facts.part_name(heater.id)} off alone.",
        "correction",
        limit=limit,
        found=f"the nearest, {chain.valves[0]}, dries more" if chain.valves else "no valve",
        needed="a full-way valve on its cold side that dries the heater and what it feeds",
        mend="Put a full-way ball valve on the cold pipe near the heater, before the expansion tank's tee.",
    )
    if answer.kind != BROKEN:
        return answer
    for path, vertex in shutoffs.unsaid_ports(inlet):
        if shutoffs.heater_alone(heater.id, vertex, chain.zones):
            raise NotShown(path, "the valve of the port")
    return answer if is_new(heater) else on_site(f"existing heater: {answer.says}")


def _heater_valve(name: str, valves: tuple[str, ...], facts: Facts, limit: InForce | None) -> Outcome:
    valve = facts.shutoffs.described(name)
    fault = full_way_fault(valve, f"The heater's valve ({name})")
    if fault is not None:
        return _fault(fault, limit, "correction")
    unlabelled = _unlabelled(name, valve, limit, "correction")
    if unlabelled is not None:
        return unlabelled
    doubt = full_way_doubt(valve, f"the heater's valve ({name})")
    return on_site(doubt) if doubt else holds(f"{name} shuts it; {_next(name, valves)}")


def _unlabelled(name: str, valve: Described, limit: InForce | None, severity: str) -> Outcome | None:
    """A port's valve counts only with its name on it. Raises NotShown where the plan does not say."""
    if not valve.is_port or valve.label not in (None, NONE):
        return None
    if valve.label is None:
        raise NotShown(valve.label_path, "the label of the port valve that shuts it alone")
    return broken(
        f"{name} would shut it alone but has no label.",
        severity,
        limit=limit,
        found=f"{name} without a label",
        needed="a valve of its own; one at the manifold marked with what it serves",
        mend=f"Mark {name} with the name of what it shuts.",
        at=valve.label_path,
    )


def _next(name: str, valves: tuple[str, ...]) -> str:
    """The valve behind the one named, for the day that one does not close."""
    behind = valves[valves.index(name) + 1 :]
    return f"next {behind[0]}" if behind else "no other behind it"


def _listed(names: Iterable[str]) -> str:
    shown = list(names)
    more = f" and {len(shown) - _SHOWN} more" if len(shown) > _SHOWN else ""
    return ", ".join(shown[:_SHOWN]) + more


def _side(part: Part, side: str, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, name = facts.shutoffs, f"{part.id}/{side}"
    chain = shutoffs.chain_of_side(name)
    if chain is None:
        raise NotShown(("runs",), _NO_WATER)
    limit, severity = _asked_of(part, facts, limits)
    own = (valve for valve in chain.valves if valve not in shutoffs.mains and _is_alone(part, chain.zones.dry[valve]))
    answer = _first_sound(own, lambda one: _own_valve(one, chain.valves, facts, limit, severity))
    if answer is not None and answer.kind == HOLDS:
        return answer
    if not is_new(part):
        return on_site(f"existing {facts.part_name(part.id)}: whether a valve shuts its {side} side alone")
    missing = facts.shutoffs.stop_missing(name)
    if missing is not None:
        raise NotShown(missing, "the stop of the outlet")
    for path, vertex in shutoffs.unsaid_ports(facts.network.outlets[name]):
        if _is_alone(part, shutoffs.dried(chain.zones, vertex)):
            raise NotShown(path, "the valve of the port")
    return answer or _no_valve(name, part, chain, facts, limit, severity)


def _asked_of(part: Part, facts: Facts, limits: Limits) -> tuple[InForce | None, str]:
    """The demand in force for one outlet, and how much it weighs."""
    if part.is_ in APPLIANCES:
        return limits.maybe(APPLIANCE), "correction"
    if part.is_ != "hose outlet":
        return limits.maybe(FIXTURE), "correction"
    if facts.family == "irc" and isinstance(part.own, FixtureOwn) and isinstance(part.own.stem, Length):
        return limits.maybe(FROST_PROOF), "advice"
    if facts.family == "upc" and not any(one.is_ == "manifold" for one in facts.plan.parts.values()):
        return None, "advice"  # its text on hose outlets speaks of manifolds with single lines
    return limits.maybe(HOSE), "correction"


def _is_alone(part: Part, sides: Iterable[str]) -> bool:
    return all(side.partition("/")[0] == part.id for side in sides)


def _own_valve(name: str, valves: tuple[str, ...], facts: Facts, limit: InForce | None, severity: str) -> Outcome:
    valve = facts.shutoffs.described(name)
    if valve.reach == NONE and not valve.is_port:  # a manifold shut in is a matter of its labels and reach
        return _fault(shut_in(valve, f"{name}, the only valve that shuts it alone,"), limit, severity)
    return _unlabelled(name, valve, limit, severity) or holds(f"{name} shuts it alone; {_next(name, valves)}")


def _no_valve(name: str, part: Part, chain: Chain, facts: Facts, limit: InForce | None, severity: str) -> Outcome:
    stem = part.own.stem if isinstance(part.own, FixtureOwn) else None
    if limit is not None and limit.limit is HOSE and facts.family == "irc" and stem != NONE:
        raise NotShown(("parts", part.id, "stem"), "whether its stem ends in the warm: then it needs no valve")
    nearest = "there is none before it"
    if chain.valves[:1] and chain.valves[0] in facts.shutoffs.mains:
        nearest = f"the nearest is the main ({chain.valves[0]})"
    elif chain.valves:
        others = [one for one in chain.zones.dry[chain.valves[0]] if one != name]
        nearest = f"the nearest is {chain.valves[0]}, which also dries {_listed(others)}; {_next(chain.valves[0], chain.valves)}"
    mains = facts.shutoffs.mains
    drawn_ahead = bool(mains) and name in facts.shutoffs.ahead(mains[0]).bare
    port = "feed it from a manifold port of its own with its name on it"
    for bare, vertex in facts.shutoffs.bare_ports(facts.network.outlets[name]):
        if _is_alone(part, facts.shutoffs.dried(chain.zones, vertex)):
            port = f"put a ball valve on {bare} with its name on it"
    return broken(
        f"{name}: no valve shuts it alone; {nearest}.",
        severity,
        limit=limit,
        found=f"nearest valve {chain.valves[0]}" if chain.valves else "no valve",
        needed="its own stop, or a labelled manifold valve that dries it alone",
        mend=f"{_FIT_HOSE if part.is_ == 'hose outlet' else _FIT}, or {port}.",
        cause=("parts", mains[0]) if drawn_ahead else None,
    )


def _tub(part: Part, side: str, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, graph, name = facts.shutoffs, facts.network, f"{part.id}/{side}"
    chain = shutoffs.chain_of_side(name)
    if chain is None:
        raise NotShown(("runs",), _NO_WATER)
    hot = side == "hot"  # a valve ahead of the heater is no more help than the main
    useful = [
        one
        for one in chain.valves
        if one not in shutoffs.mains and not (hot and shutoffs.before_heater(graph.valves[one]))
    ]
    if useful:
        return holds(f"{useful[0]} stops it; {_next(useful[0], chain.valves)}")
    for path, vertex in shutoffs.unsaid_ports(graph.outlets[name]):
        if not (hot and shutoffs.before_heater(vertex)):
            raise NotShown(path, "the valve of the port")
    if not is_new(part):
        return on_site(f"existing {facts.part_name(part.id)}: whether its {side} side has a stop")
    missing = facts.shutoffs.stop_missing(name)
    if missing is not None:
        raise NotShown(missing, "whether the valve has stops built in (stop: integral)")
    stands = f"the nearest is {chain.valves[0]}" if chain.valves else "there is no valve at all"
    return broken(
        f"{facts.part_name(part.id)}, {side}: only the main of the house or the heater's valve stops it; {stands}.",
        "advice",
        found=f"nearest valve {chain.valves[0]}" if chain.valves else "no valve",
        needed="nothing by code; a valve nearer than the main",
        mend="Choose a valve body with stops built in, or put a ball valve on the branch where it can be reached.",
        ask=_NO_CODE,
    )


def _port(part: Part, port: Port, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, number, name = facts.shutoffs, facts.network.number, f"{part.id}/{port.id}"
    end, zones = number[name], shutoffs.zones_at(number[name])
    if zones is None:
        raise NotShown(("runs",), _NO_WATER)
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
    wet = [point for point in hanging if shutoffs.stays_wet(end, point)]
    if port.valve in (None, NOT_KNOWN):
        if hanging and not wet and not shutoffs.without_valve(name, hanging):
            return holds("all that hangs on it has its own valve, whether the port has one or not")
        raise NotShown((*_port_path(name), "valve"), "the valve of the port")
    if wet and port.use == "onward":
        return holds("what is behind it is fed another way too")
    if wet:
        return _looped(part, port, wet, facts)
    crossed = [one for one in shutoffs.ports.crossed(name, hanging) if shutoffs.stays_wet(end, one)]
    if crossed:
        return _crossed(name, crossed, facts)
    points = shutoffs.points()
    return holds(f"dries {_listed(points[one] for one in hanging)}" if hanging else "nothing that draws hangs on it")


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
        return on_site(f"existing {name} has no valve, and {_listed(bare)} none of its own")
    return broken(
        f"{name} has no valve, and not every outlet on it has one of its own: {_listed(bare)}.",
        "advice",
        found="no valve",
        needed="a valve on the port, or at each outlet that hangs on it",
        mend=f"Put a ball valve on {name} with the name of what it shuts, or stops at {_listed(bare)}.",
        at=(*_port_path(name), "valve"),
        cause=("parts", bare[0].partition("/")[0]),  # what nothing shuts alone is told there
    )


def _looped(part: Part, port: Port, wet: list[int], facts: Facts) -> Outcome:
    """A port whose valve does not dry what hangs on it, and the way water comes round."""
    ports, plan, name = facts.shutoffs.ports, facts.plan, f"{part.id}/{port.id}"
    way = ports.way_round(facts.network.valves[name], wet[0])
    others = [place for place, step in enumerate(way) if step.name != name and facts.shutoffs.is_port(step.name)]
    behind = way[others[-1] :] if others else way
    by, mend = "", "Find the way round, and part it."
    if others:
        by, mend = f", through {behind[0].name}", f"Part {name} from {behind[0].name}: each outlet on one port only."
    back = [step.name for step in behind if step.name in plan.parts and plan.parts[step.name].is_ in _RETURNS]
    if back and facts.traced.returns:
        by = f", through {back[-1]}"
        mend = f"Put a valve at {back[-1]}, and write on {name} that both have to be closed."
    if not is_new(part) and not any(is_new(plan.runs[step.run]) for step in behind if step.run is not None):
        return on_site(f"existing {name}: water comes round another way{by}")
    first = ports.sharing(name)
    return _comes_round(name, wet, by, mend, _port_path(first) if first is not None else None, facts)


def _crossed(name: str, wet: list[int], facts: Facts) -> Outcome:
    """A port whose valve does not dry all because hot and cold are joined somewhere: that is the cause."""
    link = facts.traced.crossovers[0]
    cause = ("runs" if link in facts.plan.runs else "parts", link)
    return _comes_round(name, wet, f", through {link}", f"{link} joins hot and cold: take it out.", cause, facts)


def _comes_round(name: str, wet: list[int], by: str, mend: str, cause: Path | None, facts: Facts) -> Outcome:
    sides = _listed(facts.shutoffs.points()[point] for point in wet)
    return broken(
        f"Closing {name} does not dry {sides}: water comes round another way{by}.",
        "advice",
        found=f"still wet: {sides}",
        needed=_EXACTLY,
        mend=mend,
        cause=cause,
    )


def _behind(facts: Facts, limits: Limits) -> Outcome:
    """Once for the house: outlets behind whose first valve stands only the main."""
    shutoffs, sides = facts.shutoffs, []
    for side in facts.network.outlets:
        part = facts.plan.parts[side.partition("/")[0]]
        chain = shutoffs.chain_of_side(side) if isinstance(part.own, FixtureOwn) and is_new(part) else None
        if chain is None or len(chain.valves) < 2 or chain.valves[1] not in shutoffs.mains:
            continue
        own = part.is_ in TUBS_AND_SHOWERS or _is_alone(part, chain.zones.dry[chain.valves[0]])
        if own and chain.valves[0] not in shutoffs.mains:
            sides.append(side)
    if not sides:
        return holds("behind the valve of each outlet stands another one before the main")
    return broken(
        f"Should the first valve not close, the next one is the main of the house for {_listed(sides)}.",
        "advice",
        found=f"only the main behind the first valve of {', '.join(sides)}",
        needed="nothing by code; another valve between",
        why="On the day a stop or port valve will not close, the whole house goes dry until it is changed.",
        mend="Where that would hurt: stops at the outlets that hang on a port valve alone, or a ball valve on the branch.",
        ask=_NO_CODE,
    )
