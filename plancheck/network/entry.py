"""The way in: the main shutoff, and what lies between it and a point of the network."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.model import Plan, ValveOwn
from plancheck.network.graph import Graph
from plancheck.network.zones import Zones


def mains(plan: Plan, graph: Graph, zones: Zones) -> tuple[str, ...]:
    """The valve parts that shut the house, from the source on, the street's curb stops last; none where there is none.

    What runs outdoors may be drawn off ahead of them. A plan without outlets takes the first valve.
    """
    fed = [(name, zones.entered[tap]) for name, tap in graph.outlets.items() if tap in zones.entered]
    spots = [spot for name, spot in fed if not _outdoors(plan, name)] or [spot for _, spot in fed]
    first, last = min(spots, default=0), max(spots, default=0)
    found = []
    for name, inside in graph.valves.items():
        own = plan.parts[name].own if name in plan.parts else None
        if not isinstance(own, ValveOwn) or own.normally == "closed" or inside not in zones.entered:
            continue
        if not spots or (zones.entered[inside] <= first and last < zones.left[inside]):
            found.append((own.style == "curb stop", zones.entered[inside], name))
    found.sort()
    return tuple(name for _, _, name in (found if spots else found[:1]))


def _outdoors(plan: Plan, side: str) -> bool:
    part = plan.parts[side.partition("/")[0]]
    place = plan.places.get(part.place) if part.place is not None else None
    return part.is_ == "hose outlet" or (place is not None and place.is_ in ("outdoors", "ground"))


def between(graph: Graph, zones: Zones, before: str, vertex: int, names: Iterable[str]) -> tuple[str, ...]:
    """Of the named parts or valves those that all water to the vertex must pass after the part `before`."""
    start = graph.number.get(before)
    if start is None:
        return ()
    found = []
    for name in names:
        inside = graph.valves.get(name, graph.number.get(name, -1))
        if inside not in (start, vertex) and zones.shuts(start, inside) and zones.shuts(inside, vertex):
            found.append((zones.entered[inside], name))
    return tuple(name for _, name in sorted(found))


def run_before(graph: Graph, parents: Mapping[int, int], number: int) -> str | None:
    """The run that water passes next before the run of an edge; None where a heater or the source comes first.

    parents: for each vertex the edge by which water first reaches it.
    """
    edge = graph.edges[number]
    vertex = edge.b if parents.get(edge.a) == number or edge.a not in parents else edge.a
    while vertex in parents and vertex not in graph.hearts:
        above = parents[vertex]
        if above < 0 or above == number:
            return None
        found = graph.edges[above]
        if found.run is not None:
            return found.run
        vertex = found.a if found.b == vertex else found.b
    return None
