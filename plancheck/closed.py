"""What hangs together with a water heater without anything that lets water pass one way only: its closed stretch.

Closing are regulators, check valves, backflow preventers, and meters, filters, softeners and valves that have a check.
Water pressed back from the heater goes as far as the stretch does; if the source is in it, the house is open to the street.
"""

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.model import DeviceOwn, HeaterOwn, MeterOwn, Part, Path, TankOwn, ValveOwn
from plancheck.record import NamedTuple

_ALWAYS = ("check valve", "backflow preventer", "regulator")
_CLOSERS = {
    "regulator": "a regulator",
    "check valve": "a check valve",
    "backflow preventer": "a backflow preventer",
    "meter": "the check in the meter",
    "valve": "the check in a valve",
}


class Closed(NamedTuple):
    """The stretch of one heater.

    vertices: of the graph; open_: the source is in it; heaters and tanks in it; closers: the closing parts at its edge
    that all water to the heater passes, nearest the heater first; unsaid: the key of a meter of which nobody says
    whether it has a check, where that would close it.
    """

    vertices: frozenset[int]
    open_: bool
    heaters: tuple[str, ...]
    tanks: tuple[str, ...]
    closers: tuple[str, ...]
    unsaid: Path | None


def closed_stretch(facts: Facts, heater: str) -> Closed:
    """The stretch of a heater; a meter of which nothing is said counts as closing only where it could matter."""
    graph = facts.network
    sure = {graph.number[part.id] for part in facts.plan.parts.values() if part.id in graph.number and _closes(part)}
    vertices = flood(facts, graph.number[heater], frozenset(sure))
    unsaid: Path | None = None
    if graph.source in vertices:
        doubtful = {
            graph.number[p.id]: p.id for p in facts.plan.parts.values() if p.id in graph.number and _doubtful(p)
        }
        smaller = flood(facts, graph.number[heater], frozenset(sure | doubtful.keys())) if doubtful else vertices
        if graph.source not in smaller:
            meter = next(id_ for inside, id_ in doubtful.items() if facts.zones.shuts(inside, graph.number[heater]))
            unsaid, vertices = ("parts", meter, "check"), smaller
            sure |= doubtful.keys()
    return _described(facts, heater, vertices, unsaid, sure)


def with_tanks(facts: Facts) -> Iterator[Closed]:
    """The closed stretches with an expansion tank, each once; those that an unsaid meter would close among them."""
    done: set[str] = set()
    for part in facts.plan.parts.values():
        if isinstance(part.own, HeaterOwn) and part.work != "removed" and part.id not in done:
            stretch = closed_stretch(facts, part.id)
            done.update(stretch.heaters)
            if stretch.tanks and not stretch.open_:
                yield stretch


def flood(facts: Facts, start: int, closing: frozenset[int]) -> frozenset[int]:
    """What is joined to the start without passing a closing part, a valve left closed or a mixing valve."""
    graph, parts = facts.network, facts.plan.parts
    found, frontier = {start}, [start]
    for vertex in frontier:  # grows while it is walked
        for number in graph.touching[vertex]:
            a, b, _, _ = graph.edges[number]
            other = b if a == vertex else a
            if other in found or other in closing or other in graph.closed:
                continue
            if other in graph.hearts and not isinstance(parts[graph.names[other]].own, HeaterOwn):
                continue
            found.add(other)
            frontier.append(other)
    return frozenset(found)


def parted_by(facts: Facts, tank: str, stretch: Closed) -> str | None:
    """A valve whose closing parts the tank from every heater of its stretch; None where none does."""
    graph = facts.network
    heaters = [graph.number[name] for name in stretch.heaters]
    closing = [graph.number[p.id] for p in facts.plan.parts.values() if p.id in graph.number and _closes(p)]
    start, named = graph.number[f"{tank}/in"], {vertex: name for name, vertex in graph.valves.items()}
    for vertex in _way(facts, start, frozenset(heaters), stretch.vertices):
        if vertex in named:
            around = flood(facts, start, frozenset((*closing, vertex)))
            if not any(heater in around for heater in heaters):
                return named[vertex]
    return None


def _way(facts: Facts, start: int, ends: frozenset[int], within: frozenset[int]) -> list[int]:
    """One way from the start to the nearest of the ends: whatever parts them stands on every way, so on this one."""
    graph, came = facts.network, {start: -1}
    frontier = [start]
    for vertex in frontier:  # grows while it is walked
        if vertex in ends:
            way = [vertex]
            while came[way[-1]] >= 0:
                way.append(came[way[-1]])
            return way
        for number in graph.touching[vertex]:
            a, b, _, _ = graph.edges[number]
            other = b if a == vertex else a
            if other in within and other not in came:
                came[other] = vertex
                frontier.append(other)
    return []


def closer_name(facts: Facts, id_: str) -> str:
    """A closing part in words; with its id where that says more."""
    part, name = facts.plan.parts[id_], facts.part_name(id_)
    kind = _CLOSERS.get(part.is_, f"the check in the {part.is_}")
    return kind if name in kind else f"{kind} ({name})"


def _closes(part: Part) -> bool:
    if part.is_ in _ALWAYS:
        return True
    own = part.own
    return isinstance(own, MeterOwn | DeviceOwn | ValveOwn) and own.check is True


def _doubtful(part: Part) -> bool:
    """A meter of which nobody says whether it has a check."""
    return isinstance(part.own, MeterOwn) and not isinstance(part.own.check, bool) and part.own.check != "none"


def _described(facts: Facts, heater: str, vertices: frozenset[int], unsaid: Path | None, sure: set[int]) -> Closed:
    graph, parts, zones = facts.network, facts.plan.parts, facts.zones
    heaters = tuple(p.id for p in parts.values() if isinstance(p.own, HeaterOwn) and graph.number.get(p.id) in vertices)
    tanks = tuple(
        p.id for p in parts.values() if isinstance(p.own, TankOwn) and graph.number.get(f"{p.id}/in") in vertices
    )
    cold = graph.number[f"{heater}/cold"]
    edge = [inside for inside in sure if zones.shuts(inside, cold)]
    edge.sort(key=lambda inside: -zones.entered.get(inside, 0))
    names = tuple(graph.names[inside] for inside in edge)
    return Closed(vertices, graph.source in vertices, heaters, tanks, names, unsaid)
