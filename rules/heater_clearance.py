"""Metal first at the water heater, then plastic

Looks at: the cold and the hot supply connection of each water heater, and the shortest way along the pipe from there to
    the first plastic: runs, fittings, valves and connectors, each with its length. The relief pipe and a return are
    other matters.
Why: the nipples of a heater get far hotter than its water, from the burner, the flue and heat that creeps along metal.
    Plastic softens there, creeps out of its ring and lets go under pressure.
To mend: run metal pipe or a metal connector from the heater for the length needed, and begin the plastic behind it.
Cannot see: how hot the nipples get, heat traps, what the heater's sheet says unless the plan states it.
Ask: the heater's and the tube maker's instructions; in places under the UPC family the inspector measures it.
"""

import heapq
from collections.abc import Iterator
from typing import NamedTuple

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    KINDS,
    METAL,
    PEX,
    Facts,
    HeaterOwn,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Run,
    Source,
    Subject,
    Value,
    at_least,
    broken,
    holds,
    is_new,
    is_plastic,
    on_site,
    printed,
    tube_of,
)

_INCH = 0.0254
CLEARANCE = Limit(
    "clearance",
    "metal or other approved pipe between a water heater and PEX, along the pipe",
    "length",
    "at least",
    upc=(Value(18 * _INCH, printed("UPC", "2009", "604.11.2 (604.13 in later editions, from memory)"), since=2009),),
    practice=(Value(18 * _INCH, printed("PPFA handbook and tube makers' manuals", "2006", "water heaters"), practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(CLEARANCE,))


class Connection(NamedTuple):
    """One supply connection of a heater."""

    heater: Part
    side: str
    vertex: int


class First(NamedTuple):
    """The first plastic met: how far along the pipe, the run it is, whether the distance is only a least one."""

    distance_m: float
    run: Run
    unknown: Path | None
    estimate: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """The cold and the hot connection of each heater that has something joined to it."""
    graph = facts.network
    for part in facts.plan.parts.values():
        if not isinstance(part.own, HeaterOwn) or part.work == "removed":
            continue
        for side in ("cold", "hot"):
            vertex = graph.number[f"{part.id}/{side}"]
            if len(graph.touching[vertex]) > 1:
                name = f"{side} connection of {facts.part_name(part.id)}"
                yield Subject(("parts", part.id), name, part.place, Connection(part, side, vertex))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the first plastic lies far enough along the pipe."""
    connection: Connection = subject.thing
    own = connection.heater.own
    limit = _limit(own if isinstance(own, HeaterOwn) else HeaterOwn(), limits)
    found = _first_plastics(facts, connection.vertex, limit.number)
    near = [one for one in found if not at_least(one.distance_m, limit.number, GRACE_LENGTH_M)]
    sure = [one for one in near if one.unknown is None]
    if sure:
        return _too_near(connection, sure[0], limit, facts)
    if near and near[0].unknown is not None:
        raise NotShown(near[0].unknown, "how much metal pipe lies between heater and plastic")
    first = found[0] if found else None
    measured = Measured(first.distance_m, "length") if first else None
    says = f"{first.run.id} begins far enough along the pipe" if first else "no plastic in reach"
    return holds(says, measured, limit, first.estimate if first else "")


def _limit(own: HeaterOwn, limits: Limits) -> InForce:
    """UPC's own number, else what the plan says the heater's maker asks for, else common practice."""
    limit = limits.of(CLEARANCE)
    if limit.practice and isinstance(own.maker_clearance, Length):
        source = Source("the heater maker's instructions", "", "as the plan states them", "common practice")
        return InForce(CLEARANCE, own.maker_clearance.m, source, False)
    return limit


def _first_plastics(facts: Facts, start: int, enough_m: float) -> list[First]:
    """The first plastic on every way out that is nearer than enough, the nearest first; else the nearest beyond."""
    graph, plan = facts.network, facts.plan
    found: list[First] = []
    done: set[int] = set()
    queue: list[tuple[float, int, Path | None, str]] = [(0.0, start, None, "")]
    while queue:
        distance, vertex, unknown, estimate = heapq.heappop(queue)
        if vertex in done or (found and distance > enough_m + GRACE_LENGTH_M):
            continue
        done.add(vertex)
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if other in done or _is_inside(facts, other):
                continue
            if edge.run is None:
                heapq.heappush(queue, (distance + _adapter(facts, other), other, unknown, estimate))
                continue
            run = plan.runs[edge.run]
            tube = tube_of(run, plan)
            if is_plastic(tube):
                found.append(First(distance, run, unknown, estimate))
                continue
            more, missing, about = _metal(facts, run)
            heapq.heappush(queue, (distance + more, other, unknown or missing, estimate or about))
    return sorted(found, key=lambda one: one.distance_m)


def _is_inside(facts: Facts, vertex: int) -> bool:
    """Inside a heater or a fixture: no way out for pipe. A mixing valve is metal and is passed."""
    name = facts.network.names[vertex]
    part = facts.plan.parts.get(name.partition("/")[0])
    if part is None:
        return False
    if "/" not in name:
        return KINDS[part.is_].sort == "heater"
    return name.endswith((":tap", ":stop")) or (KINDS[part.is_].sort == "heater" and name.endswith("/return"))


def _adapter(facts: Facts, vertex: int) -> float:
    part = facts.plan.parts.get(facts.network.names[vertex])
    said = getattr(part.own, "length", None) if part is not None and part.is_ == "adapter" else None
    return said.m if isinstance(said, Length) else 0.0


def _metal(facts: Facts, run: Run) -> tuple[float, Path | None, str]:
    """The length of a run of metal, the key that is missing if it cannot be known, and the estimate it rests on."""
    tube = tube_of(run, facts.plan)
    if tube is None or tube.material not in METAL:
        return 0.0, ("tubes", tube.id if tube is not None else str(run.tube), "material"), ""
    if isinstance(run.length, Length):
        return run.length.m, None, run.length.text if run.length.about else ""
    shape = facts.geometry.shapes.get(run.id)
    if shape is not None:
        return shape.length_m, None, f"the path of {run.id}" if shape.about else ""
    if isinstance(run.rise, Length) and abs(run.rise.m) > 0:
        return abs(run.rise.m), ("runs", run.id, "length"), ""
    return 0.0, ("runs", run.id, "length"), ""


def _too_near(connection: Connection, first: First, limit: InForce, facts: Facts) -> Outcome:
    heater, run = connection.heater, first.run
    if not is_new(heater) and not is_new(run):
        return on_site("existing plastic near an existing heater: look at its state, and what the inspector asks")
    own = heater.own if isinstance(heater.own, HeaterOwn) else HeaterOwn()
    tube = tube_of(run, facts.plan)
    listed = tube is not None and tube.material in PEX
    short = limit.number - first.distance_m
    return broken(
        f"Plastic ({run.id}) begins {facts.length(first.distance_m)} along the pipe from the {connection.side} connection "
        f"of {facts.part_name(heater.id)}.",
        "correction" if listed else "advice",
        measured=Measured(first.distance_m, "length"),
        limit=limit,
        found=f"{facts.length(first.distance_m)} of metal",
        needed=f"at least {facts.length(limit.number)} of metal or other approved pipe, measured along it",
        mend=f"Put {facts.length(short)} more of metal pipe, or a metal connector of {facts.length(limit.number)} or more, "
        f"between the heater and {run.id}.",
        ask=_ask(limit),
        caution=_caution(own),
        at=("runs", run.id),
        estimate=first.estimate,
    )


def _ask(limit: InForce) -> str:
    if limit.practice:
        return (
            "The IRC and IPC carry no such number: the heater's and the tube maker's instructions govern. State the "
            "maker's figure as maker_clearance."
        )
    return "The inspector; the heater's and the tube maker's instructions where they ask for more."


def _caution(own: HeaterOwn) -> str:
    if own.style == "boiler coil" or own.fuel == "wood":
        return "Water from a coil or a wood-fired heater may pass 180 degF: PEX is not joined to it directly."
    if own.style in ("tankless", "point of use"):
        return "A tankless or point-of-use heater is a water heater too: its sheet says what pipe it takes."
    return ""
