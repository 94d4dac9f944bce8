"""Metal first at the water heater, then plastic

Looks at: the cold and the hot supply connection of each water heater, and the shortest way out from there along the
    pipe to the first plastic: runs, nipples and connectors with their length, fittings and valves with none. It is the
    pipe that counts, not the straight line. CPVC counts as pipe ahead of PEX; where CPVC or another plastic comes first
    itself, it is compared with habit alone. Relief pipe, returns and what lies behind a pump are other matters.
Why: the nipples of a heater get far hotter than its water, from what heats it (burner and flue, elements, coil) and from
    heat that creeps along metal. Plastic softens there, creeps out of its ring and lets go under pressure, where there is
    a tank with all of it behind.
To mend: bring metal pipe or a metal connector of the full length out of the heater, and begin the plastic behind it.
Cannot see: how hot the nipples get; whether a braided connector is rubber or plastic inside; heat traps; what the
    heater's sheet says, unless the plan states it; the length of a valve or fitting, which is taken as nothing.
Ask: the heater's and the tube maker's instructions; where the UPC is adopted the inspector puts a tape on it.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    HOLDS,
    INCH_M,
    LEAST,
    LEAST_AS_SAID,
    MOST,
    MOST_AS_SAID,
    PEX,
    PLASTIC,
    PRACTICE,
    Facts,
    HeaterOwn,
    InForce,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Reckoning,
    Rule,
    Subject,
    Value,
    Way,
    broken,
    estimates,
    holds,
    is_new,
    length,
    on_site,
    printed,
    recalled,
    ways_to,
)

_18_IN = 18 * INCH_M
_HANDBOOK = printed("PPFA Installation Handbook and tube makers' manuals", "2006", "at water heaters")
CLEARANCE = Limit(
    "clearance",
    "metal or other approved pipe between a water heater and PEX, along the pipe",
    "length",
    "at least",
    upc=(
        Value(_18_IN, printed("UPC", "2009", "604.11.2"), since=2009),
        Value(_18_IN, recalled("UPC", "2012", "604.13"), since=2012),
    ),
    practice=(Value(_18_IN, _HANDBOOK, practice=True),),
)
OTHER_PLASTIC = Limit(
    "other_plastic",
    "metal pipe between a water heater and CPVC or another plastic, along the pipe",
    "length",
    "at least",
    practice=(Value(_18_IN, PRACTICE, practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(CLEARANCE, OTHER_PLASTIC))

_OTHERS = PLASTIC - PEX
_MAKER = recalled("the heater maker's instructions", "", "as the plan states them")
_OLD = "old pipe joins the heater within the length that is to be metal: look what it is and how it has kept"
_COIL = "water from a coil or a wood fire may pass 180 degF: read on tube and heater what both are rated for"


class Connection(NamedTuple):
    """One supply connection of a heater."""

    heater: Part
    own: HeaterOwn
    side: str
    vertex: int


def subjects(facts: Facts) -> Iterator[Subject]:
    """The cold and the hot connection of each heater that has something joined to it."""
    for part in facts.plan.parts.values():
        if not isinstance(part.own, HeaterOwn) or part.work == "removed":
            continue
        graph = facts.network
        for side in ("cold", "hot"):
            vertex = graph.number[f"{part.id}/{side}"]
            if len(graph.touching[vertex]) > 1:
                name = f"{side} connection of {facts.part_name(part.id)}"
                yield Subject(("parts", part.id), name, part.place, Connection(part, part.own, side, vertex))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the first PEX, and then the first of any other plastic, lies far enough along the pipe."""
    connection: Connection = subject.thing
    outcome = _judge(connection, facts, _limit(CLEARANCE, connection.own, limits), PEX)
    if outcome.kind == HOLDS:
        return _judge(connection, facts, _limit(OTHER_PLASTIC, connection.own, limits), _OTHERS)
    return outcome


def _limit(limit: Limit, own: HeaterOwn, limits: Limits) -> InForce:
    """The code's number; the heater maker's where the plan states one and the code has none or asks for less."""
    in_force, maker = limits.of(limit), own.maker_clearance
    if isinstance(maker, Length) and (in_force.practice or maker.m > in_force.number):
        return InForce(limit, maker.m, _MAKER, False, text=maker.text)
    return in_force


def _judge(connection: Connection, facts: Facts, limit: InForce, kind: frozenset[str]) -> Outcome:
    """Walks with all that is not sure as short as it can be; if need be as long as it can be, then as the plan says."""
    near = _near(connection, facts, limit.number, kind, LEAST)
    new = [way for way in near if way.new]
    if not new:
        return on_site(_OLD) if near else _beyond(connection, facts, limit, kind)
    for most in (MOST, MOST_AS_SAID):
        sure = [way for way in _near(connection, facts, limit.number, kind, most) if way.new]
        if sure:
            return _too_near(connection, sure, limit, facts)
    for way in _near(connection, facts, limit.number, kind, LEAST_AS_SAID):
        if way.new and way.missing is not None:
            what = "whether it is metal" if way.missing[-1] == "material" else "how much metal comes before plastic"
            raise NotShown(way.missing, f"{what} at the heater")
    return holds("", None, limit, new[0].about)


def _near(connection: Connection, facts: Facts, far_m: float, kind: frozenset[str], reckoned: Reckoning) -> list[Way]:
    return ways_to(facts, connection.vertex, is_new(connection.heater), kind, far_m - GRACE_LENGTH_M, reckoned)


def _beyond(connection: Connection, facts: Facts, limit: InForce, kind: frozenset[str]) -> Outcome:
    """No plastic within the limit. Where that is a maker's small figure, whether it may stand for the usual one."""
    usual_m = float(CLEARANCE.practice[-1].value)
    if limit.number < usual_m and any(way.new for way in _near(connection, facts, usual_m, kind, LEAST)):
        if facts.family is None and kind is PEX:
            raise NotShown(("code", "family"), "whether the UPC's number stands over the heater maker's")
        if _coil(connection.own) and connection.side == "hot":
            return on_site(f"{_COIL}.")
    return holds("far enough along the pipe", None, limit, _makers_estimate(connection.own, limit))


def _too_near(connection: Connection, near: list[Way], limit: InForce, facts: Facts) -> Outcome:
    first, own = near[0], connection.own
    begins, needed, more = limit.told_apart(first.m, facts.units, _written(connection, first.m, facts))
    names = " and ".join(dict.fromkeys(str(way.reached[1]) for way in near if way.reached))
    where = f"{begins} along the pipe from" if first.m else "right at"
    pipe = "metal" if limit.limit is OTHER_PLASTIC else "metal or other approved pipe"
    return broken(
        f"{names.partition(' and ')[0]} begins {where} the {connection.side} connection of "
        f"{facts.part_name(connection.heater.id)}; at least {needed} of {pipe} comes first.",
        "correction",
        measured=length(first.m),
        limit=limit,
        found=f"{begins} before plastic begins",
        needed=f"at least {needed} of {pipe}, measured along it",
        why=_why(own),
        mend=f"Put {more}{' more' if first.m else ''} of metal pipe between the heater "
        f"and {names}, or one copper or stainless connector of {needed} or more.",
        ask=_ask(own, limit, facts.family),
        caution=f"Whatever lies between: {_COIL}." if _coil(own) else "",
        at=first.reached,
        estimate=", ".join(filter(None, (first.about, _makers_estimate(own, limit)))),
    )


def _written(connection: Connection, m: float, facts: Facts) -> str:
    """The length of the pipe at the connection as the plan writes it, where it is all that lies before the plastic."""
    edges = (facts.network.edges[number].run for number in facts.network.touching[connection.vertex])
    lengths = (facts.plan.runs[run].length for run in edges if run is not None)
    return next((one.text for one in lengths if isinstance(one, Length) and one.m == m), "")


def _why(own: HeaterOwn) -> str:
    """Why it matters at a heater of this fuel and style."""
    burns = own.fuel in ("gas", "oil", "wood")
    warm = "the burner, the flue and heat" if burns else "what heats it and from heat"
    tank = own.style in ("storage", "indirect")
    behind = "with the whole tank behind it" if tank else "with the pressure of the house behind it"
    return (
        f"The nipples of a heater get far hotter than its water, from {warm} that creeps along metal. Plastic softens "
        f"there, creeps out of its ring and lets go under pressure, on the pipe {behind}."
    )


def _makers_estimate(own: HeaterOwn, limit: InForce) -> str:
    return estimates(own.maker_clearance) if limit.source is _MAKER else ""


def _coil(own: HeaterOwn) -> bool:
    return own.style == "boiler coil" or own.fuel == "wood"


def _ask(own: HeaterOwn, limit: InForce, family: str | None) -> str:
    sheet = "The tankless heater's own sheet" if own.style in ("tankless", "point of use") else "The heater's sheet"
    if not limit.practice and family == "upc":
        return f"The inspector: any water heater is meant. {sheet} and the tube maker's, where they ask for more."
    if not limit.practice:
        return f"{sheet}, whose figure the plan states, and the tube maker's."
    return f"{sheet} and the tube maker's govern: the IRC and IPC carry no number. Give theirs as maker_clearance."
