"""Which water stands at each vertex of the graph: cold, hot, mixed, hot return, not potable, found in that order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.model import NONE, NOT_KNOWN, DeviceOwn, HeaterOwn, MixingOwn, Part, Plan, RestOwn, SourceOwn
from plancheck.network.graph import Graph
from plancheck.network.loops import HotPipe, other_end
from plancheck.network.search import Ways, reach

COLD, HOT, RETURN, MIXED, NOT_POTABLE = "cold", "hot", "hot return", "mixed", "not potable"
_SERVES_NOTHING_ELSE = (None, NONE, NOT_KNOWN)


class Waters:
    """What the trace fills, water by water.

    services: vertex -> water; heated: vertex -> the part that sets its temperature; returns: where hot is led into the
    cold line; joins: the edges by which it comes there.
    """

    def __init__(self, plan: Plan, graph: Graph, ways: Ways) -> None:
        self.plan = plan
        self.graph = graph
        self.ways = ways
        self.services: dict[int, str] = {}
        self.heated: dict[int, str] = {}
        self.returns: list[int] = []
        self.joins: set[int] = set()


def find_waters(plan: Plan, graph: Graph, ways: Ways) -> Waters:
    """The water at each vertex; ways: those it may take, without bypasses and what wrongly joins hot and cold."""
    waters = Waters(plan, graph, ways)
    if graph.source is not None:
        waters.services.update(dict.fromkeys(reach(waters.ways, [graph.source], graph.hearts), COLD))
    for part in plan.parts.values():
        start = graph.hot_of(part.id) if isinstance(part.own, HeaterOwn) else None
        if start is not None:
            _flood(waters, part, HOT, start)
    _mixed(waters)
    _bypassed(waters)
    _returning(waters)
    _not_potable(waters)
    return waters


def _flood(waters: Waters, part: Part, service: str, start: int) -> None:
    """Spreads a water from where the part gives it; where it comes into cold by an arrow it stops as a return."""
    services, hearts = waters.services, waters.graph.hearts
    if services.setdefault(start, service) != service:
        return
    waters.heated[start] = part.id
    frontier = [start]
    for vertex in frontier:  # grows while it is walked
        if vertex in hearts:
            continue
        for other, edge in waters.ways[vertex]:
            there = services.get(other)
            if there == COLD and other not in hearts:
                waters.returns.append(other)
                waters.joins.add(edge)
            elif there is None:
                services[other] = service
                waters.heated[other] = part.id
                frontier.append(other)


def _mixed(waters: Waters) -> None:
    """Behind each mixing valve, those fed with hot first: hot at the valve's temperature, or mixed for one fixture."""
    number = waters.graph.number
    waiting = [p for p in waters.plan.parts.values() if isinstance(p.own, MixingOwn) and f"{p.id}/mixed" in number]
    taps = {tap: name.partition("/")[0] for name, tap in waters.graph.outlets.items()}
    while waiting:
        ready = [part for part in waiting if number[f"{part.id}/hot"] in waters.services] or waiting[:1]
        for part in ready:
            service = HOT if _for_the_house(waters, part, taps) else MIXED
            _flood(waters, part, service, number[f"{part.id}/mixed"])
        done = {part.id for part in ready}
        waiting = [part for part in waiting if part.id not in done]


def _for_the_house(waters: Waters, part: Part, taps: Mapping[int, str]) -> bool:
    """Whether the valve tempers the house: more fixtures behind it (or none yet) than beside it on that hot water."""
    behind = reach(waters.ways, [waters.graph.number[f"{part.id}/mixed"]], waters.graph.hearts)
    served = {taps[vertex] for vertex in behind if vertex in taps}
    if any(waters.plan.parts[name].is_ == "rest of house" for name in served):
        return True
    if len(served) == 1:
        return False
    heater = waters.heated.get(waters.graph.number[f"{part.id}/hot"])
    beside: set[str] = set()
    for tap, name in taps.items():
        if waters.heated.get(tap) == heater and waters.services.get(tap) == HOT and tap not in behind:
            beside.add(name)
            if len(beside) >= max(1, len(served)):
                return False
    return True


def _bypassed(waters: Waters) -> None:
    """Listed bypasses that lead hot into the cold line; no water passes them in this trace."""
    for inside in sorted(waters.graph.bypasses):
        ends = [other_end(waters.graph, edge, inside) for edge in waters.graph.touching[inside]]
        if any(waters.services.get(end) == HOT for end in ends):
            waters.returns.extend(end for end in ends if waters.services.get(end) == COLD)


def _returning(waters: Waters) -> None:
    """Hot return: from the last draws of a loop to its end at the heater or in the cold line."""
    graph, services = waters.graph, waters.services
    ends = [graph.number.get(f"{p.id}/return", -1) for p in waters.plan.parts.values() if isinstance(p.own, HeaterOwn)]
    tails = []
    for edge in sorted(waters.joins):
        a, b, _, _ = graph.edges[edge]
        ends.append(b if services.get(a) == COLD else a)
        tails.append((a if services.get(a) == COLD else b, edge))
    by_heater: dict[str, list[int]] = {}
    for end in ends:
        if services.get(end) == HOT:
            by_heater.setdefault(waters.heated[end], []).append(end)
    warm = {vertex: service == HOT for vertex, service in services.items()} if by_heater else {}
    for heater, mine in by_heater.items():
        tempered = isinstance(waters.plan.parts[heater].own, MixingOwn)
        start = graph.number[f"{heater}/mixed"] if tempered else graph.hot_of(heater)
        if start is None:
            continue
        services.update(dict.fromkeys(HotPipe(graph, start, warm).tail(mine), RETURN))
    for vertex, edge in tails:
        _mark_tail(waters, vertex, edge)


def _mark_tail(waters: Waters, vertex: int, edge: int) -> None:
    """Marks the pipe from a pump or check valve to where it joins the cold line: what comes through is return water."""
    graph = waters.graph
    while waters.services.get(vertex) == COLD and len(graph.touching[vertex]) == 2:
        waters.services[vertex] = RETURN
        first, second = graph.touching[vertex]
        edge = second if edge == first else first
        vertex = other_end(graph, edge, vertex)


def _not_potable(waters: Waters) -> None:
    """Not potable: all of it where the source says so, else what lies behind a device that serves such things."""
    number = waters.graph.number
    source = next((part.own for part in waters.plan.parts.values() if isinstance(part.own, SourceOwn)), None)
    if source is not None and source.potable is False:
        waters.services = dict.fromkeys(waters.services, NOT_POTABLE)
    for part in waters.plan.parts.values():
        if part.is_ == "backflow preventer" and f"{part.id}/out" in number:
            behind = reach(waters.ways, [number[f"{part.id}/out"]], waters.graph.hearts)
            if _serves_others(waters, part, behind):
                waters.services.update(dict.fromkeys(behind, NOT_POTABLE))


def _serves_others(waters: Waters, part: Part, behind: Mapping[int, int]) -> bool:
    if isinstance(part.own, DeviceOwn) and part.own.serves not in _SERVES_NOTHING_ELSE:
        return True
    if any(tap in behind for tap in waters.graph.outlets.values()):
        return False
    return any(waters.graph.number.get(f"{end.id}/in") in behind for end in _ends(waters.plan))


def _ends(plan: Plan) -> Iterable[Part]:
    """Ends that feed what is no plumbing fixture."""
    return (p for p in plan.parts.values() if isinstance(p.own, RestOwn) and p.own.serves not in _SERVES_NOTHING_ELSE)
