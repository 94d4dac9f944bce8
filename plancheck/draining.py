"""The lowest points of a house and what can be opened near them. Heights in metres above the plan's zero."""

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.gaugeports import gauges_of
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import HeaterOwn, ManifoldOwn, Part, Ref, Run, ValveOwn
from plancheck.record import NamedTuple

_SIDE = {"cold": "cold", "hot": "hot", "hot return": "hot", "mixed": "hot"}
_DULL = frozenset(("tee", "adapter", "meter", "filter", "regulator", "cap", "stub-out", "source"))
_OPENED = ("bleed", "port")


class Low(NamedTuple):
    """The lowest point of a side: the run, its height; opening: the lowest thing that opens, and its height.

    untold: a run of the side whose height is not known; laid: some of its runs lie in slab or ground.
    """

    run: Run | None
    height_m: float
    opening: tuple[str, float] | None
    untold: Run | None
    laid: bool


def runs_of(facts: Facts) -> dict[str, list[Run]]:
    """The runs of each side behind the main shutoff; of all the water where no valve shuts the house."""
    graph, zones, main = facts.network, facts.zones, facts.main_valve
    inside = graph.number.get(main) if main is not None else None
    found: dict[str, list[Run]] = {"cold": [], "hot": []}
    for edge in graph.edges:
        if edge.run is None or not (inside is None or zones.shuts(inside, edge.b) or zones.shuts(inside, edge.a)):
            continue
        side = _SIDE.get(facts.carried(edge.run).service or "")
        if side is not None:
            found[side].append(facts.plan.runs[edge.run])
    return found


def low_of(facts: Facts, runs: list[Run], side: str) -> Low:
    """The lowest point of those runs, and what opens lowest."""
    lowest, height, untold, laid = None, float("inf"), None, False
    buried = {place.id for place in facts.plan.places.values() if place.is_ in ("slab", "ground")}
    for run in runs:
        if _is_laid(run, buried, facts):
            laid = True
            continue
        found = _lowest_of(run, facts)
        if found is None:
            untold = untold or run
        elif found < height:
            lowest, height = run, found
    opening = min(_openings(facts, side), key=lambda one: one[1], default=None)
    return Low(lowest, height, opening, untold, laid)


def drains_main(facts: Facts, main: str) -> str | None:
    """A connection with a valve of its own and no other valve between it and the main, or None."""
    zones, number = facts.zones, facts.network.number
    points = {gauge.name: gauge.vertex for gauge in gauges_of(facts) if gauge.doubt is None}
    for part in facts.plan.parts.values():
        if part.is_ == "hose outlet" and part.work != "removed":
            points[facts.part_name(part.id)] = number[f"{part.id}/cold"]
        elif isinstance(part.own, ManifoldOwn) and part.work != "removed":
            spare = [port for port in part.own.ports.values() if port.use == "spare" and port.thread is not None]
            points.update((f"port {part.id}/{port.id}", number[f"{part.id}/{port.id}:row"]) for port in spare)
    for name, vertex in points.items():
        valves = zones.before.at(vertex) if vertex in zones.entered else ()
        if valves and valves[0] == main:
            return name
    return None


def _is_laid(run: Run, laid: set[str], facts: Facts) -> bool:
    return isinstance(run.cover, Length) or (bool(laid) and not laid.isdisjoint(facts.run_places(run.id)))


def _lowest_of(run: Run, facts: Facts) -> float | None:
    heights, shape = facts.geometry.heights, facts.geometry.shapes.get(run.id)
    start = heights.get(run.from_) if run.from_ is not None else None
    end = heights.get(run.to) if run.to is not None else None
    if shape is not None:
        if start is None and end is not None:
            start = end - shape.vector[2]
        return start + min(corner[2] for corner in shape.corners) if start is not None else None
    return min(start, end) if start is not None and end is not None else None


def _openings(facts: Facts, side: str) -> Iterator[tuple[str, float]]:
    """What can be opened on a side, with its height: outlets, bleeds, test and spare ports, a heater's drain."""
    heights, number, services = facts.geometry.heights, facts.network.number, facts.traced.services
    for part in facts.plan.parts.values():
        if part.is_ in _DULL or part.work == "removed":
            continue
        own = part.own
        if isinstance(own, ManifoldOwn):
            names = [port.id for port in own.ports.values() if port.use in ("test", "spare")]
        elif isinstance(own, ValveOwn):
            names = ["out"] if own.drain in _OPENED else []
        elif isinstance(own, HeaterOwn):
            if side == "hot":
                yield from _heater(facts, part.id)
            continue
        elif KINDS[part.is_].sort == "fixture":
            names = [side] if side in KINDS[part.is_].connections else []
        else:
            names = ["in"] if part.is_ == "test port" else []
        for name in names:
            height = heights.get(Ref(part.id, name))
            if height is not None and _SIDE.get(services.get(number.get(f"{part.id}/{name}", -1), "")) == side:
                yield part.id, height


def _heater(facts: Facts, heater: str) -> Iterator[tuple[str, float]]:
    """A tank's drain stands near its floor; a tankless heater is opened where it hangs."""
    part = facts.plan.parts[heater]
    place = facts.plan.places.get(part.place) if part.place is not None else None
    height = facts.geometry.heights.get(Ref(heater, "hot"))
    if (
        isinstance(part.own, HeaterOwn)
        and part.own.style == "storage"
        and place is not None
        and isinstance(place.level, Length)
    ):
        yield heater, place.level.m
    elif height is not None:
        yield heater, height


def hose_valves(hose: Part, facts: Facts) -> Iterator[Part]:
    """The valves with a bleed ahead of a hose outlet that shut nothing but hose outlets, from the outlet on."""
    side, parts = f"{hose.id}/cold", facts.plan.parts
    chain = facts.shutoffs.chain_of_side(side) if side in facts.network.outlets else None
    for name in chain.valves if chain is not None else ():
        valve = parts.get(name)
        own = valve.own if valve is not None else None
        if valve is None or not isinstance(own, ValveOwn) or name in facts.shutoffs.mains:
            continue
        bleeds = own.drain in _OPENED or own.style == "stop and waste"
        if bleeds and all(parts[dry.partition("/")[0]].is_ == "hose outlet" for dry in facts.zones.dry[name]):
            yield valve
