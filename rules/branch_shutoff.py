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
    ON_SITE,
    PRACTICE,
    STOP,
    TUBS_AND_SHOWERS,
    Chain,
    Described,
    Facts,
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

_FULL_WAY = ("ball", "gate")
_MAYBE_FULL_WAY = ("plug", "butterfly")
_NO_WATER = "no water is traced to it: a run is missing"
_SHOWN = 6  # names in one sentence
_NO_CODE = "No code asks for it."
_FIT = "Fit a stop at the outlet"
_FIT_HOSE = "Put a ball valve on its branch, inside the house"


class Asked(NamedTuple):
    """One question: who answers it, the part it is about (None: no main), and the port or side it is about."""

    answer: Callable[[Part, str, Facts, Limits], Outcome] | None
    part: Part | None = None
    end: str = ""


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, its manifold ports in use, heaters, every side of every outlet, and once what stands behind them."""
    mains = facts.shutoffs.mains
    main = facts.plan.parts[mains[0]] if mains else None
    place = main.place if main is not None else None
    path: Path = ("parts", main.id) if main is not None else ("parts",)
    yield Subject(path, "the main shutoff", place, Asked(_main if main is not None else None, main))
    outlets = False
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        if isinstance(part.own, ManifoldOwn):
            yield from _ports(part, part.own, facts)
        elif isinstance(part.own, HeaterOwn):
            name = f"the cold side of {facts.part_name(part.id)}"
            yield Subject(("parts", part.id), name, part.place, Asked(_heater, part))
        elif isinstance(part.own, FixtureOwn):
            outlets = True
            yield from _sides(part, part.own, facts)
    if main is not None and outlets:  # its own path, so that waiving it waives nothing else of the main
        yield Subject((*path, "is"), "the valve behind the first", place, Asked(_behind, main))


def _ports(part: Part, own: ManifoldOwn, facts: Facts) -> Iterator[Subject]:
    for port in own.ports.values():
        if port.use in ("circuit", "onward", "spare") and _is_joined(f"{part.id}/{port.id}", facts):
            path: Path = ("parts", part.id, "ports", port.id)
            yield Subject(path, f"port {part.id}/{port.id}", part.place, Asked(_port, part, port.id))


def _sides(part: Part, own: FixtureOwn, facts: Facts) -> Iterator[Subject]:
    sides = KINDS[part.is_].connections
    for side in sides:
        if (own.hot if side == "hot" else own.cold) == NONE and not _is_joined(f"{part.id}/{side}", facts):
            continue  # the plan says there is no such side
        name = f"{facts.part_name(part.id)}, {side}" if len(sides) > 1 else facts.part_name(part.id)
        answer = _tub if part.is_ in TUBS_AND_SHOWERS else _side
        yield Subject(("parts", part.id), name, part.place, Asked(answer, part, side))


def _is_joined(connection: str, facts: Facts) -> bool:
    """Whether anything is joined to the connection from outside the part."""
    return len(facts.network.touching[facts.network.number[connection]]) > 1


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question, by what the subject asks."""
    asked: Asked = subject.thing
    if asked.answer is None or asked.part is None:
        return _no_main(facts, limits)
    return asked.answer(asked.part, asked.end, facts, limits)


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
    return isinstance(part.own, ValveOwn) and facts.network.number.get(part.id) not in facts.traced.parents


def _main(part: Part, end: str, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.maybe(MAIN)
    return _first_sound(facts.shutoffs.mains, lambda name: _main_valve(name, facts, limit))


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
    known = _fault(valve, f"The main shutoff ({name})", limit) or _ahead(name, facts, limit)
    known = known or _ahead_of_meter(name, valve, facts, limit) or _doubt(valve, "the main shutoff")
    return known or holds(f"{name} shuts the house")


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
    if facts.family != "upc":
        return None
    zones, number = facts.shutoffs.zones, facts.network.number
    meters = [part.id for part in facts.plan.parts.values() if part.is_ == "meter" and part.work != "removed"]
    passed = [meter for meter in meters if zones.shuts(number[main], number[meter])]
    if not passed:
        return None
    if not valve.new:
        return on_site(
            f"existing main valve ahead of {passed[0]}: whether a full-way valve stands at the meter's outlet"
        )
    return broken(
        f"The main shutoff ({main}) stands ahead of {passed[0]}, and no valve behind it shuts the house.",
        "correction",
        limit=limit,
        found=f"{main} ahead of {passed[0]}",
        needed="a full-way valve at the meter's outlet",
        mend=f"Put a full-way ball valve right behind {passed[0]}.",
    )


def _first_sound(names: Iterable[str], judge: Callable[[str], Outcome]) -> Outcome:
    """The answer for the first valve that will do; else what is missing, else a look on site, else the first fault."""
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
    return min(answers, key=lambda one: one.kind != ON_SITE)


def _fault(valve: Described, what: str, limit: InForce | None) -> Outcome | None:
    """What the plan itself shows to be wrong with a valve that has to be full-way and in reach."""
    if valve.reach == NONE:
        return _shut_in(valve, what, limit, "correction")
    if valve.style in (*_FULL_WAY, *_MAYBE_FULL_WAY, None) or not valve.new:
        return None
    return broken(
        f"{what} is a {valve.style} valve, which is not full-way.",
        "correction",
        limit=limit,
        found=f"a {valve.style} valve",
        needed="a full-way valve (ball or gate)",
        mend="Use a full-port ball valve.",
        at=valve.style_path,
    )


def _shut_in(valve: Described, what: str, limit: InForce | None, severity: str) -> Outcome:
    return broken(
        f"{what} cannot be reached.",
        severity,
        limit=limit,
        found="closed in",
        needed="open, or behind a panel",
        mend="Open the place up, or move the valve where a hand gets at it in an emergency.",
        at=valve.reach_path,
    )


def _doubt(valve: Described, what: str) -> Outcome | None:
    """What only a person can see of it. Raises NotShown for what the plan could say."""
    if valve.reach is None:
        raise NotShown(valve.reach_path, f"how one gets at {what}")
    if not valve.new and valve.style != "ball":
        return on_site(f"{what} is existing work: whether it opens full-way and still closes")
    if valve.style is None:
        raise NotShown(valve.style_path, f"what kind of valve {what} is")
    if valve.style in _MAYBE_FULL_WAY:
        return on_site(f"{what} is a {valve.style} valve: whether its bore is that of the pipe")
    return None


def _heater(heater: Part, end: str, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, limit = facts.shutoffs, limits.maybe(HEATER)
    inlet, valves = facts.network.number[f"{heater.id}/cold"], facts.network.valves
    chain = shutoffs.chain(inlet)
    if chain is None:
        raise NotShown(("runs",), _NO_WATER)
    alone = [name for name in chain.valves if shutoffs.heater_alone(heater.id, valves[name], chain.zones)]
    names = [name for name in alone if name not in shutoffs.mains]
    answer = broken(
        f"No valve shuts {facts.part_name(heater.id)} off alone.",
        "correction",
        limit=limit,
        found=f"the nearest, {chain.valves[0]}, dries more" if chain.valves else "no valve",
        needed="a full-way valve on its cold side that dries the heater and what it feeds",
        mend="Put a full-way ball valve on the cold pipe near the heater, before the expansion tank's tee.",
    )
    if names:
        answer = _first_sound(names, lambda name: _heater_valve(name, chain.valves, facts, limit))
    if answer.kind != BROKEN:
        return answer
    for path, vertex in shutoffs.unsaid_ports(inlet):
        if shutoffs.heater_alone(heater.id, vertex, chain.zones):
            raise NotShown(path, "the valve of the port")
    return answer if is_new(heater) else on_site(f"existing heater: {answer.says}")


def _heater_valve(name: str, valves: tuple[str, ...], facts: Facts, limit: InForce | None) -> Outcome:
    valve = facts.shutoffs.described(name)
    if valve.style == STOP:
        return on_site(f"a heater on a stop ({name}): whether the inspector takes that for its valve")
    known = _fault(valve, f"The heater's valve ({name})", limit) or _unlabelled(name, valve, limit, "correction")
    return known or _doubt(valve, f"the heater's valve ({name})") or holds(f"{name} shuts it; {_next(name, valves)}")


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
    own = [valve for valve in chain.valves if valve not in shutoffs.mains and _is_alone(part, chain.zones.dry[valve])]
    answer = _first_sound(own, lambda one: _own_valve(one, chain.valves, facts, limit, severity)) if own else None
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
        return _shut_in(valve, f"{name}, the only valve that shuts it alone,", limit, severity)
    return _unlabelled(name, valve, limit, severity) or holds(f"{name} shuts it alone; {_next(name, valves)}")


def _no_valve(name: str, part: Part, chain: Chain, facts: Facts, limit: InForce | None, severity: str) -> Outcome:
    stem = part.own.stem if isinstance(part.own, FixtureOwn) else None
    if limit is not None and limit.limit is HOSE and facts.family == "irc" and stem != NONE:
        raise NotShown(("parts", part.id, "stem"), "whether its stem ends in the warm: then it needs no valve")
    nearest = "there is none before it"
    if chain.valves:
        others = [one for one in chain.zones.dry[chain.valves[0]] if one != name]
        more = f", which also dries {_listed(others)}" if others else ""
        nearest = f"the nearest is {chain.valves[0]}{more}; {_next(chain.valves[0], chain.valves)}"
    mains = facts.shutoffs.mains
    drawn_ahead = bool(mains) and name in facts.shutoffs.ahead(mains[0]).bare
    hose = part.is_ == "hose outlet"
    return broken(
        f"{name}: no valve shuts it alone; {nearest}.",
        severity,
        limit=limit,
        found=f"nearest valve {chain.valves[0]}" if chain.valves else "no valve",
        needed="its own stop, or a labelled manifold valve that dries it alone",
        mend=f"{_FIT_HOSE if hose else _FIT}, or feed it from a manifold port of its own with its name on it.",
        cause=("parts", mains[0]) if drawn_ahead else None,
    )


def _tub(part: Part, side: str, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, graph, name = facts.shutoffs, facts.network, f"{part.id}/{side}"
    chain = shutoffs.chain_of_side(name)
    if chain is None:
        raise NotShown(("runs",), _NO_WATER)
    useful = [
        one for one in chain.valves if one not in shutoffs.mains and not _is_a_heaters(graph.valves[one], side, facts)
    ]
    if useful:
        return holds(f"{useful[0]} stops it; {_next(useful[0], chain.valves)}")
    for path, vertex in shutoffs.unsaid_ports(graph.outlets[name]):
        if not _is_a_heaters(vertex, side, facts):
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


def _is_a_heaters(vertex: int, side: str, facts: Facts) -> bool:
    """Whether what stops a hot side stands ahead of a heater."""
    if side != "hot":
        return False
    zones, number = facts.shutoffs.zones, facts.network.number
    heaters = [part.id for part in facts.plan.parts.values() if isinstance(part.own, HeaterOwn)]
    return any(zones.shuts(vertex, number.get(f"{heater}/cold", -1)) for heater in heaters)


def _port(part: Part, end: str, facts: Facts, limits: Limits) -> Outcome:
    shutoffs, number, name = facts.shutoffs, facts.network.number, f"{part.id}/{end}"
    zones = shutoffs.zones_at(number[name])
    if zones is None:
        raise NotShown(("runs",), _NO_WATER)
    if zones.shuts(number[name], number[f"{name}:row"]):
        return broken(
            f"Water comes into {part.id} through {name}: its valve dries all of the manifold.",
            "advice",
            found="the feed of the manifold",
            needed="a port valve dries exactly what hangs on its port",
            mend="Call it the feed (use: feed), or turn the run round.",
        )
    valve = facts.shutoffs.described(name)
    hanging = shutoffs.hanging(name)
    if valve.style == NONE:
        return _bare_port(name, hanging, facts)
    wet = [point for point in hanging if _stays_wet(point, number[name], facts)]
    if valve.style is None:
        if hanging and not wet and not _without_valve(name, hanging, facts):
            return holds("all that hangs on it has its own valve, whether the port has one or not")
        raise NotShown(valve.style_path, "the valve of the port")
    points = shutoffs.points()
    if not hanging:
        return holds("nothing that draws water hangs on it")
    if not wet:
        return holds(f"dries {_listed(points[point] for point in hanging)}")
    own = part.own
    if isinstance(own, ManifoldOwn) and own.ports[end].use == "onward":
        return holds("the manifold behind it is fed another way too")
    return _looped(name, [points[point] for point in wet], wet[0], facts)


def _stays_wet(point: int, port: int, facts: Facts) -> bool:
    zones = facts.shutoffs.zones_at(point)
    return zones is not None and not zones.shuts(port, point)


def _without_valve(name: str, hanging: Iterable[int], facts: Facts) -> list[str]:
    """What hangs on the port without a valve between."""
    shutoffs, graph = facts.shutoffs, facts.network
    bare = []
    for point in hanging:
        chain = shutoffs.chain(point)
        if chain is not None and all(chain.zones.shuts(graph.valves[one], graph.number[name]) for one in chain.valves):
            bare.append(shutoffs.points()[point])
    return bare


def _bare_port(name: str, hanging: tuple[int, ...], facts: Facts) -> Outcome:
    bare = _without_valve(name, hanging, facts)
    if not bare:
        return holds("no valve on the port, and all that hangs on it has its own")
    for one in bare:
        missing = facts.shutoffs.stop_missing(one)
        if missing is not None:
            raise NotShown(missing, "the stop of the outlet")
    valve = facts.shutoffs.described(name)
    if not valve.new:
        return on_site(f"existing {name} has no valve, and {_listed(bare)} none of its own")
    return broken(
        f"{name} has no valve, and not every outlet on it has one of its own: {_listed(bare)}.",
        "advice",
        found="no valve",
        needed="a valve on the port, or at each outlet that hangs on it",
        mend=f"Put a ball valve on {name} with the name of what it shuts, or stops at {_listed(bare)}.",
        at=valve.style_path,
    )


def _looped(name: str, wet: list[str], point: int, facts: Facts) -> Outcome:
    """A port whose valve does not dry what hangs on it, and the way water comes round."""
    shutoffs = facts.shutoffs
    way = shutoffs.way_round(facts.network.valves[name], point)
    runs = way.runs if way is not None else ()
    link = next((run for run in runs if run in facts.traced.crossovers), None)
    other = shutoffs.sharing(name)
    cause: Path | None = None
    by, mend = "", "Find where this circuit is joined to another one, and part them."
    if link is not None:
        by, cause, mend = f", through {link}", ("runs", link), f"{link} joins hot and cold: take it out."
    else:
        ports = [one for one in (way.names if way else ()) if one != name and shutoffs.is_port(one)]
        if ports:
            by, mend = f", through {ports[-1]}", f"Part {name} from {ports[-1]}: each outlet on one port only."
        if other is not None:
            cause = ("parts", other.partition("/")[0], "ports", other.partition("/")[2])
    if not is_new(facts.plan.parts[name.partition("/")[0]]) and not any(is_new(facts.plan.runs[run]) for run in runs):
        return on_site(f"existing {name}: water comes round another way{by}")
    return broken(
        f"Closing {name} does not dry {_listed(wet)}: water comes round another way{by}.",
        "advice",
        found=f"still wet: {_listed(wet)}",
        needed="a port valve dries exactly what hangs on its port",
        mend=mend,
        cause=cause,
    )


def _behind(main: Part, end: str, facts: Facts, limits: Limits) -> Outcome:
    """Once for the house: outlets behind whose first valve stands only the main."""
    shutoffs, sides = facts.shutoffs, []
    for side in facts.network.outlets:
        part = facts.plan.parts[side.partition("/")[0]]
        chain = shutoffs.chain_of_side(side) if isinstance(part.own, FixtureOwn) and is_new(part) else None
        if chain is None or len(chain.valves) < 2 or chain.valves[0] in shutoffs.mains:
            continue
        own = part.is_ in TUBS_AND_SHOWERS or _is_alone(part, chain.zones.dry[chain.valves[0]])
        if own and chain.valves[1] in shutoffs.mains:
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
