"""The way in: the main shutoff, and what lies between it and a point of the network."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.model import Plan, ValveOwn
from plancheck.network.graph import Graph
from plancheck.network.zones import Zones


def main_valve(plan: Plan, graph: Graph, zones: Zones) -> str | None:
    """The part that is the main shutoff: the first valve from the source, the street's curb stop apart, whose closing
    dries every outlet that has water; None where there is none. A plan without outlets takes the first valve."""
    fed = [name for name, tap in graph.outlets.items() if tap in zones.entered]
    first = None
    for part in sorted(plan.parts.values(), key=lambda part: zones.entered.get(graph.number.get(part.id, -1), 1 << 60)):
        inside = graph.number.get(part.id)
        if not isinstance(part.own, ValveOwn) or inside not in zones.entered or part.id not in graph.valves:
            continue
        if len(zones.dry[part.id]) == len(fed) and part.own.normally != "closed":
            if part.own.style != "curb stop":
                return part.id
            first = first or part.id
    return first


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
