"""Every branch, outlet and the house itself can be shut off alone

Looks at: what goes dry when one valve closes. The main shutoff; the valve of each manifold port in use (it dries exactly
    what hangs on it); the heater's cold side; the stop of each fixture, appliance and hose outlet, or a labelled manifold
    valve that dries that one alone; tubs and showers. For every outlet also the next valve upstream, for the day the
    first will not close; and any other new valve that is closed in. A plain tee branch needs no valve of its own and is not
    judged, nor is whether a label is right.
Why: a washer that will not close, a hose that bursts, a tap to be changed: somebody looks for the valve, and it must be
    there, full-way where the whole house or the heater hangs on it, within reach, and shut off no more than it should.
To mend: give the outlet its own stop, or a valve of its own on the manifold with its name on it.
Cannot see: whether a valve still closes, whether a ball valve is full-port, whether somebody stored boxes before it,
    whether a label is still on.
Ask: which valves the code in force wants at fixtures and appliances differs by family: the inspector decides. The IPC
    text that was seen lists hose outlets and appliances; from memory it lists plain fixtures too, so there it is advice.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    APPLIANCES,
    HOLDS,
    KINDS,
    NONE,
    PRACTICE,
    TUBS_AND_SHOWERS,
    Facts,
    FixtureOwn,
    Graph,
    HeaterOwn,
    InForce,
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
    broken,
    capital,
    held_by_stop,
    holds,
    is_frost_proof,
    is_new,
    judge_heater,
    judge_main,
    judge_port,
    judge_side,
    judge_tub,
    may_be_frost_proof,
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
    Value("a valve on each fixture supply", recalled("IPC", "2018", "606.2"), practice=True),
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

_AT_METER = ("upc",)  # its text puts the main at the meter's outlet
_AT_HEATER = ("irc", "upc")  # their texts put the valve at the cold inlet, or near the heater


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, its manifold ports in use, heaters, every side of every outlet, and once what stands behind them.

    thing: who answers, and what of: nothing for the house; a part; a part and its port or side.
    """
    mains, graph = facts.shutoffs.mains, facts.network
    path: Path = ("parts", *mains[:1])
    place = facts.plan.parts[mains[0]].place if mains else None
    yield Subject(path, "the main shutoff", place, (_main, ()))
    outlets = False
    for id_, part in facts.plan.parts.items():
        own = part.own
        if part.is_ == "valve" and _is_closed_in(part) and id_ not in mains:
            yield Subject(("parts", id_, "reach"), facts.part_name(id_), part.place, (_closed_in, (part,)))
        if own is None or part.work == "removed":
            continue
        if isinstance(own, FixtureOwn):
            outlets = True
            yield from _sides(part, own, facts.part_name(id_), graph)
        elif isinstance(own, ManifoldOwn):
            yield from _ports(part, own, graph)
        elif isinstance(own, HeaterOwn):
            yield Subject(("parts", id_), f"the cold side of {facts.part_name(id_)}", part.place, (_heater, (part,)))
    if mains and outlets:  # its own path, so that waiving it waives nothing else of the main
        yield Subject((*path, "is"), "the valve behind the first", place, (_behind, ()))


def _is_closed_in(part: Part) -> bool:
    from plancheck.valves import reach_word

    return reach_word(part.reach) == NONE and is_new(part)


def _ports(part: Part, own: ManifoldOwn, graph: Graph) -> Iterator[Subject]:
    for id_, port in own.ports.items():
        name = f"{part.id}/{id_}"
        if port.use in ("circuit", "onward", "spare") and _is_joined(name, graph):
            yield Subject(("parts", part.id, "ports", id_), f"port {name}", part.place, (_port, (part, port)))


def _sides(part: Part, own: FixtureOwn, title: str, graph: Graph) -> Iterator[Subject]:
    sides = KINDS[part.is_].connections
    answer = _tub if part.is_ in TUBS_AND_SHOWERS else _side
    for side in sides:
        if (own.hot if side == "hot" else own.cold) == NONE and not _is_joined(f"{part.id}/{side}", graph):
            continue  # the plan says there is no such side
        name = f"{title}, {side}" if len(sides) > 1 else title
        yield Subject(("parts", part.id), name, part.place, (answer, (part, side)))


def _is_joined(connection: str, graph: Graph) -> bool:
    """Whether anything is joined to the connection from outside the part."""
    return len(graph.touching[graph.number[connection]]) > 1


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question, by what the subject asks."""
    answer, about = subject.thing
    found: Outcome = answer(*about, facts, limits)
    return found


def _main(facts: Facts, limits: Limits) -> Outcome:
    return judge_main(facts, limits.maybe(MAIN), facts.family in _AT_METER)


def _port(part: Part, port: Port, facts: Facts, limits: Limits) -> Outcome:
    return judge_port(part, port, facts)


def _heater(heater: Part, facts: Facts, limits: Limits) -> Outcome:
    return judge_heater(heater, facts, limits.maybe(HEATER), facts.family in _AT_HEATER)


def _side(part: Part, side: str, facts: Facts, limits: Limits) -> Outcome:
    held = held_by_stop(part, side, facts)
    if held is not None:
        return held
    limit, severity = _asked_of(part, facts, limits)
    if not is_frost_proof(part, facts):
        return judge_side(part, side, facts, limit, severity, may_be_frost_proof(part, facts))
    try:
        found = judge_side(part, side, facts, limit, severity)
    except NotShown as missing:
        if missing.path == ("runs",):
            raise
        found = None
    if found is not None and found.kind == HOLDS:
        return found
    return holds("a frost-proof stem: it needs no valve of its own", limit=limits.maybe(FROST_PROOF))


def _asked_of(part: Part, facts: Facts, limits: Limits) -> tuple[InForce | None, str]:
    """The demand in force for one outlet, and how much it weighs."""
    if part.is_ in APPLIANCES:
        return limits.maybe(APPLIANCE), "correction"
    if part.is_ != "hose outlet":
        return limits.maybe(FIXTURE), "correction"
    if facts.family == "upc" and not any(one.is_ == "manifold" for one in facts.plan.parts.values()):
        return None, "advice"  # its text on hose outlets speaks of manifolds with single lines
    return limits.maybe(HOSE), "correction"


def _closed_in(part: Part, facts: Facts, limits: Limits) -> Outcome:
    """A valve in the line that nobody gets at, unless it is told where it is the valve of a heater or an outlet."""
    for subject in subjects(facts):
        if subject.thing[0] in (_heater, _side):
            try:
                if check(subject, facts, limits).at == ("parts", part.id, "reach"):
                    return holds("told where it is needed")
            except NotShown:
                continue
    return broken(
        f"{capital(facts.part_name(part.id))} cannot be reached.",
        "advice",
        found="closed in",
        needed="open, or behind a panel",
        mend="Put a panel before it, or move it where a hand gets at it; else leave it out.",
        ask="The inspector: the codes that were seen ask for access to the main, to the heater's valve and to the stops.",
    )


def _tub(part: Part, side: str, facts: Facts, limits: Limits) -> Outcome:
    return judge_tub(part, side, facts)


def _behind(facts: Facts, limits: Limits) -> Outcome:
    from plancheck.secondvalve import judge_behind

    return judge_behind(facts)
