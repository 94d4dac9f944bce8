"""Arrestors at valves that snap shut

Looks at: each side of a clothes washer that has water, dishwashers, ice makers and toilets with a flush valve: whether an
    arrestor is stated there, or stands as a part on that side within 6 ft of pipe and before the next branch valve, and
    whether its letter is enough for what it serves. Faucets, lever taps and the fill valves of toilet tanks are no
    such valves.
Why: a solenoid shuts in a few hundredths of a second. The water behind it stops as fast, and the pressure jumps by what
    the tube's wall lets it: some 100 psi in 1/2 in PEX at washer flow, 400 in copper. It is heard as a bang, and felt
    by every joint, stop and hose on the line.
To mend: an arrestor to ASSE 1010 at the stop, one on each side; a washer box with arrestors built in, or a dishwasher tee
    with one. A capped piece of pipe standing up fills with water within weeks and is no arrestor.
Cannot see: how fast the valve really shuts, whether an arrestor still has its charge, whether the box has them built in
    unless the plan says so.
Ask: which machines the inspector counts as quick-closing; most ask it for washer and dishwasher, some for ice makers.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
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
    Size,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    later,
    length,
    on_site,
    printed,
    recalled,
    tube_bore_m,
    tube_of,
)

_DEMAND = "an arrestor (ASSE 1010) where a valve shuts quickly"
ARRESTOR = Limit(
    "arrestor",
    "water hammer arrestors at quick-closing valves",
    "text",
    "",
    irc=(Value(_DEMAND, printed("IRC", "", "P2903.5")),),
    ipc=(Value(_DEMAND, printed("IPC", "", "604.9")),),
    upc=(Value(_DEMAND, printed("UPC", "", "609.10 (609.11 in 2021)")),),
    practice=(Value(_DEMAND, printed("a page on arrestor rules", "", "all three codes"), practice=True),),
)
REACH = Limit(
    "reach",
    "pipe between an arrestor and the stop it serves",
    "length",
    "at most",
    practice=(Value(6 * 0.3048, PRACTICE, practice=True),),
)
LETTER = Limit(
    "letter",
    "fixture units that an arrestor of size AA serves (A: 11)",
    "count",
    "at most",
    practice=(Value(4.0, recalled("arrestor makers' sizing", "", "AA"), practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(ARRESTOR, REACH, LETTER))

_GPM = 6.30901964e-5
# washer: another state's code, read; dishwasher and flush valve: IPC 604.3, read; ice maker: common practice
_RATES_M3S = {"clothes washer": 4 * _GPM, "dishwasher": 2.75 * _GPM, "toilet": 25 * _GPM, "ice maker": 0.5 * _GPM}
_GRACE_M = 0.0254 / 16
_ADVICE = frozenset(("ice maker",))  # small solenoids on thin tube, which no code names


class Snapping(NamedTuple):
    """One side of a fixture whose valve snaps shut: its connection, its tap's vertex."""

    part: Part
    side: str
    vertex: int


class Near(NamedTuple):
    """An arrestor found along the pipe: the part, how far, and the key of a length nobody says."""

    part: Part
    m: float
    missing: Path | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each side with water of a fixture whose valve snaps shut."""
    for part in facts.plan.parts.values():
        if part.work == "removed" or not _snaps(part):
            continue
        for side in ("cold", "hot"):
            tap = facts.network.outlets.get(f"{part.id}/{side}")
            if tap is not None and tap in facts.traced.parents:
                vertex = facts.network.number[f"{part.id}/{side}"]
                name = f"{side} side of {facts.part_name(part.id)}" if part.is_ == "clothes washer" else ""
                thing = Snapping(part, side, vertex)
                yield Subject(("parts", part.id), name or facts.part_name(part.id), part.place, thing)


def _snaps(part: Part) -> bool:
    if part.is_ == "toilet":
        return isinstance(part.own, FixtureOwn) and part.own.style == "flush valve"
    return part.is_ in _RATES_M3S


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether an arrestor is stated, or near, and large enough."""
    snapping: Snapping = subject.thing
    said, path = _said(snapping)
    if not is_new(snapping.part):
        return on_site("old connection: look for an arrestor on each side, and listen for a bang when it shuts")
    if said in (NONE, "air chamber"):
        near = _nearest(snapping, facts, limits.of(REACH).number)
        if near is None or said != NONE:
            return _without(snapping, said, path, facts, limits)
        return _by_part(snapping, near, facts, limits)
    if said not in (None, NOT_KNOWN):
        return _letter(snapping, said, path, facts, limits)
    near = _nearest(snapping, facts, limits.of(REACH).number)
    if near is not None:
        return _by_part(snapping, near, facts, limits)
    if facts.stage == "layout":
        return later("judged from the rough-in stage on: nothing is said of an arrestor yet")
    raise NotShown(path, "whether there is an arrestor (arrestor: its letter, true, none)")


def _said(snapping: Snapping) -> tuple[str | None, Path]:
    """What the plan says of the arrestor of a side, and the key: of the fixture, of that side, of both sides."""
    own, root = snapping.part.own, ("parts", snapping.part.id)
    if not isinstance(own, FixtureOwn):
        return None, (*root, "arrestor")
    if own.arrestor is not None:
        return _word(own.arrestor), (*root, "arrestor")
    one = own.hot if snapping.side == "hot" else own.cold
    for supply, key in ((one, snapping.side), (own.supply, "supply")):
        if supply is not None and not isinstance(supply, str):
            if supply.arrestor is not None:
                return _word(supply.arrestor), (*root, key, "arrestor")
            break
    return None, (*root, "arrestor")


def _word(said: object) -> str:
    return said if isinstance(said, str) else "yes" if said else NONE


def _nearest(snapping: Snapping, facts: Facts, far_m: float) -> Near | None:
    """The nearest arrestor on the pipe of that side, before any valve, up to twice as far as it may be."""
    graph, parts = facts.network, facts.plan.parts
    valves = frozenset(graph.valves.values())
    done = {snapping.vertex}
    frontier: list[tuple[int, float, Path | None]] = [(snapping.vertex, 0.0, None)]
    found: list[Near] = []
    for vertex, so_far, missing in frontier:  # grows while it is walked
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if other in done or other in valves or other in graph.hearts:
                continue
            done.add(other)
            m, unsaid = _step(facts, edge.run)
            here = so_far + m, missing or unsaid
            part = parts.get(graph.names[other].partition("/")[0])
            if part is not None and part.is_ == "arrestor" and part.work != "removed":
                found.append(Near(part, *here))
            elif here[0] <= 2 * far_m and (part is None or part.is_ not in ("manifold", "regulator")):
                frontier.append((other, *here))
    return min(found, key=lambda near: near.m) if found else None


def _step(facts: Facts, id_: str | None) -> tuple[float, Path | None]:
    if id_ is None:
        return 0.0, None
    run = facts.plan.runs[id_]
    if isinstance(run.length, Length):
        return run.length.m, None
    shape = facts.geometry.shapes.get(id_)
    if shape is not None:
        return shape.length_m, None
    return 0.0, ("runs", id_, "length")


def _by_part(snapping: Snapping, near: Near, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(REACH)
    name = facts.part_name(near.part.id)
    if near.m > limit.number + _GRACE_M:
        return broken(
            f"{name} stands {facts.length(near.m)} of pipe from {_named(snapping, facts)}; at most "
            f"{facts.length(limit.number)}.",
            "advice",
            measured=length(near.m),
            limit=limit,
            mend=f"Move it to the stop, {facts.length(near.m - limit.number)} nearer at least.",
        )
    if near.missing is not None:
        raise NotShown(near.missing, f"how far {name} stands from the stop")
    letter = getattr(near.part.own, "letter", None)
    said = letter if letter not in (None, NOT_KNOWN) else "yes"
    return _letter(snapping, str(said), ("parts", near.part.id, "letter"), facts, limits)


def _letter(snapping: Snapping, said: str, path: Path, facts: Facts, limits: Limits) -> Outcome:
    """A flush valve asks more than the smallest arrestor serves; all else here is within it."""
    if said != "AA" or snapping.part.is_ != "toilet":
        return holds(f"arrestor {said}" if said != "yes" else "an arrestor; its letter is not said")
    return broken(
        f"The arrestor of {_named(snapping, facts)} is size AA, which serves 4 fixture units; a flush valve counts more.",
        "advice",
        limit=limits.of(LETTER),
        found="size AA on a flush valve",
        needed="size A, for up to 11 fixture units",
        mend="Fit size A.",
        at=path,
    )


def _named(snapping: Snapping, facts: Facts) -> str:
    name = facts.part_name(snapping.part.id)
    return f"the {snapping.side} side of {name}" if snapping.part.is_ == "clothes washer" else name


def _without(snapping: Snapping, said: str, path: Path, facts: Facts, limits: Limits) -> Outcome:
    limit: InForce = limits.of(ARRESTOR)
    name = _named(snapping, facts)
    has = "no arrestor" if said == NONE else "an air chamber, which fills with water"
    found, measured = _surge(snapping, facts)
    where = "at the box on each side" if snapping.part.is_ == "clothes washer" else "at its stop"
    return broken(
        f"{name[0].upper()}{name[1:]}: {has}{found}.",
        "advice" if snapping.part.is_ in _ADVICE else "correction",
        measured=measured,
        limit=limit,
        found="none" if said == NONE else "an air chamber",
        needed=_DEMAND,
        mend=f"Size {'A' if snapping.part.is_ == 'toilet' else 'A (or AA)'} {where}, to ASSE 1010.",
        caution="In PEX the jump is a quarter of that in copper by the formula; field reports give 18 to 40 percent "
        "less. No tube does without the arrestor.",
        at=path if said != NONE else None,
    )


def _surge(snapping: Snapping, facts: Facts) -> tuple[str, Measured | None]:
    """How hard it stops, in words, by the last run's tube and the usual rate."""
    from plancheck.surge import rise_pa, wave_in

    run = _last_run(snapping, facts)
    tube = tube_of(run, facts.plan) if run is not None else None
    bore_m = tube_bore_m(tube) if tube is not None else None
    wave_m_s = wave_in(tube) if tube is not None else None
    if bore_m is None or wave_m_s is None or tube is None:
        return "", None
    rate_m3s = _RATES_M3S[snapping.part.is_]
    speed_m_s = rate_m3s / (0.785398163397448 * bore_m**2)
    jump_pa = rise_pa(wave_m_s, speed_m_s)
    zone = facts.standing.at(snapping.vertex)
    on_top = ""
    if zone is not None and zone.pressure_pa is not None:
        on_top = f" on top of {facts.quantity(zone.pressure_pa, 'pressure')}"
    size = "" if not isinstance(tube.size, Size) else tube.size.name if tube.size.metric else f"{tube.size.name} in"
    words = (
        f"; {facts.quantity(rate_m3s, 'flow')} in {size} {tube.material} stops {facts.quantity(speed_m_s, 'speed')}, "
        f"about {facts.quantity(jump_pa, 'pressure')}{on_top}"
    )
    return words, Measured(jump_pa, "pressure")


def _last_run(snapping: Snapping, facts: Facts) -> Run | None:
    """The run that brings the water, found from the fixture back towards the source."""
    graph, parents, vertex = facts.network, facts.traced.parents, snapping.vertex
    while parents.get(vertex, -1) >= 0:
        edge = graph.edges[parents[vertex]]
        if edge.run is not None:
            return facts.plan.runs[edge.run]
        vertex = edge.a if edge.b == vertex else edge.b
    return None
