"""Which water each run carries, traced from the source and the heaters, never from what a plan declares.

Cold from the source; hot from a heater's outlet on, and still hot behind a mixing valve at the heater, at that valve's
temperature; hot return from the loop's last draw back; mixed only behind a valve at a fixture; not potable behind a
declared device or source. Closed valves do not stop a trace: people open them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from plancheck.measures import Quantity
from plancheck.model import DeviceOwn, HeaterOwn, MixingOwn, Part, Plan, RestOwn, SaidQuantity, SourceOwn
from plancheck.network.crossing import cut
from plancheck.network.graph import Graph
from plancheck.network.search import Ways, bridges, reach

COLD, HOT, RETURN, MIXED, NOT_POTABLE = "cold", "hot", "hot return", "mixed", "not potable"


class Carried(NamedTuple):
    """What one run carries.

    service: cold, hot, hot return, mixed, not potable, or None where no water is traced; heated_by: the heater or the
    mixing valve that sets its temperature; ring: it lies on a ring, so it has no direction; reversed_: water runs from
    its `to` to its `from`; circuit: the manifold port it hangs on; fed: water from the source reaches it.
    """

    service: str | None
    heated_by: str | None = None
    ring: bool = False
    reversed_: bool = False
    circuit: str | None = None
    fed: bool = False


class Traced(NamedTuple):
    """The traced network.

    runs: what each run carries; services: for each vertex its service; heated: for each vertex the part that sets its
    temperature; parents: vertex -> edge by which water first reaches it from the source; circuits: vertex -> port;
    crossovers: runs or parts that join hot and cold where nothing should (the shortest pieces to take out);
    returns: vertices where hot is led into the cold line by a pump, check valve or listed bypass; rings: edges on rings.
    """

    runs: Mapping[str, Carried]
    services: Mapping[int, str]
    heated: Mapping[int, str]
    parents: Mapping[int, int]
    circuits: Mapping[int, str]
    crossovers: tuple[str, ...]
    returns: tuple[int, ...]
    rings: frozenset[int]


def trace(plan: Plan, graph: Graph) -> Traced:
    """Traces the network. Time grows about linearly with the number of runs and parts."""
    crossovers, barred = cut(plan, graph)
    ways = directed(graph, barred, graph.bypasses)
    tracer = _Tracer(plan, graph, ways)
    tracer.cold()
    tracer.hot()
    tracer.mixed()
    tracer.returning()
    tracer.not_potable()
    parents = reach(directed(graph), [graph.source]) if graph.source is not None else {}
    rings = _rings(graph, tracer.joins)
    circuits = _circuits(plan, graph, parents)
    runs = {}
    for number, (a, b, run, _) in enumerate(graph.edges):
        if run is not None:
            runs[run] = tracer.carried(a, b)._replace(
                ring=number in rings,
                reversed_=parents.get(a) == number,
                circuit=circuits.get(b, circuits.get(a)),
                fed=a in parents or b in parents,
            )
    return Traced(
        runs, tracer.services, tracer.heated, parents, circuits, crossovers, tuple(tracer.returns), frozenset(rings)
    )


def directed(
    graph: Graph, without: frozenset[int] = frozenset(), barred: frozenset[int] = frozenset()
) -> list[list[tuple[int, int]]]:
    """The ways water may take: for each vertex its (next vertex, edge); edges in without and vertices in barred left out."""
    ways: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for number, (a, b, _, one_way) in enumerate(graph.edges):
        if number in without or a in barred or b in barred:
            continue
        ways[a].append((b, number))
        if not one_way:
            ways[b].append((a, number))
    return ways


class _Tracer:
    """Fills services and heated, water by water; the order of the calls is the order of the trace."""

    def __init__(self, plan: Plan, graph: Graph, ways: Ways) -> None:
        self.plan = plan
        self.graph = graph
        self.ways = ways
        self.services: dict[int, str] = {}
        self.heated: dict[int, str] = {}
        self.returns: list[int] = []
        self.joins: set[int] = set()  # edges by which hot comes into the cold line

    def cold(self) -> None:
        """Cold: all that the source reaches without passing a heater or a mixing valve."""
        if self.graph.source is not None:
            for vertex in reach(self.ways, [self.graph.source], self.graph.hearts):
                self.services[vertex] = COLD

    def hot(self) -> None:
        """Hot: from each heater's outlet on; where it comes into cold by an arrow or a bypass it stops as a return."""
        for part in self.plan.parts.values():
            if isinstance(part.own, HeaterOwn) and f"{part.id}/hot" in self.graph.number:
                self._flood(part, HOT, self.graph.number[f"{part.id}/hot"])

    def mixed(self) -> None:
        """Behind each mixing valve, hottest first: hot where it stands at a heater, mixed where it serves one fixture."""
        waiting = [part for part in self.plan.parts.values() if isinstance(part.own, MixingOwn)]
        while waiting:
            ready = [part for part in waiting if self.graph.number.get(f"{part.id}/hot") in self.services] or waiting
            part = ready[0]
            waiting.remove(part)
            start = self.graph.number.get(f"{part.id}/mixed")
            if start is not None:
                self._flood(part, HOT if self._at_heater(part, start) else MIXED, start)

    def _flood(self, part: Part, service: str, start: int) -> None:
        frontier = [start]
        if self.services.setdefault(start, service) != service:
            return
        self.heated[start] = part.id
        for vertex in frontier:
            if vertex in self.graph.hearts:
                continue
            for other, edge in self.ways[vertex]:
                there = self.services.get(other)
                if there == COLD and other not in self.graph.hearts:
                    self.returns.append(other)
                    self.joins.add(edge)
                elif there is None:
                    self.services[other] = service
                    self.heated[other] = part.id
                    frontier.append(other)

    def _at_heater(self, part: Part, start: int) -> bool:
        """Whether no outlet draws between heater and valve, and more than one outlet (or none yet) hangs behind it."""
        behind = reach(self.ways, [start], self.graph.hearts)
        taps = [name for name, tap in self.graph.outlets.items() if tap in behind]
        fixtures = {name.partition("/")[0] for name in taps}
        hot_side = self.graph.number[f"{part.id}/hot"]
        heater = self.heated.get(hot_side)
        before = [
            name
            for name, tap in self.graph.outlets.items()
            if self.heated.get(tap) == heater and tap not in behind and self.services.get(tap) == HOT
        ]
        return len(fixtures) != 1 and not (before and self._draws_before(hot_side, heater))

    def _draws_before(self, hot_side: int, heater: str | None) -> bool:
        """Whether an outlet is fed on the way from the heater to the valve's hot side."""
        start = self.graph.number.get(f"{heater}/hot") if heater is not None else None
        if start is None:
            return False
        route = _route(reach(self.ways, [start], self.graph.hearts), hot_side, self.graph)
        return _last_draw(self.ways, self.graph, route) is not None

    def returning(self) -> None:
        """Hot return: what lies between the last draw of a loop and its end at the heater or the cold line."""
        for part in self.plan.parts.values():
            if isinstance(part.own, HeaterOwn):
                end = self.graph.number.get(f"{part.id}/return")
                if end is not None and self.services.get(end) == HOT:
                    self._mark_return(end)
        for edge in sorted(self.joins):
            a, b, _, _ = self.graph.edges[edge]
            end = a if self.services.get(a) == HOT else b
            if self.services.get(end) == HOT:
                self._mark_return(end)

    def _mark_return(self, end: int) -> None:
        heater = self.heated.get(end)
        start = None
        if heater is not None:
            own = self.plan.parts[heater].own
            start = self.graph.number[f"{heater}/mixed" if isinstance(own, MixingOwn) else f"{heater}/hot"]
        if start is None:
            return
        route = _route(reach(self.ways, [start], self.graph.hearts), end, self.graph)
        last = _last_draw(self.ways, self.graph, route)
        if last is not None:
            for vertex in route[route.index(last) + 1 :]:
                if self.services.get(vertex) == HOT:
                    self.services[vertex] = RETURN

    def not_potable(self) -> None:
        """Not potable: all of it where the source says so, else what lies behind a device that serves such things."""
        source = next((part for part in self.plan.parts.values() if isinstance(part.own, SourceOwn)), None)
        if source is not None and isinstance(source.own, SourceOwn) and source.own.potable is False:
            self.services = dict.fromkeys(self.services, NOT_POTABLE)
        for part in self.plan.parts.values():
            if part.is_ == "backflow preventer" and f"{part.id}/out" in self.graph.number:
                behind = reach(self.ways, [self.graph.number[f"{part.id}/out"]], self.graph.hearts)
                if self._serves_others(part, behind):
                    for vertex in behind:
                        self.services[vertex] = NOT_POTABLE

    def _serves_others(self, part: Part, behind: Mapping[int, int]) -> bool:
        if isinstance(part.own, DeviceOwn) and part.own.serves is not None:
            return True
        if any(tap in behind for tap in self.graph.outlets.values()):
            return False
        ends = (p for p in self.plan.parts.values() if isinstance(p.own, RestOwn) and p.own.serves is not None)
        return any(self.graph.number.get(f"{end.id}/in") in behind for end in ends)


    def carried(self, a: int, b: int) -> Carried:
        """What a run between the two vertices carries."""
        service = self.services.get(a)
        if service is None or self.services.get(b) == RETURN:
            service = self.services.get(b)
        heated = self.heated.get(a, self.heated.get(b)) if service in (HOT, RETURN, MIXED) else None
        return Carried(service, heated)


def _route(found: Mapping[int, int], end: int, graph: Graph) -> list[int]:
    """The vertices from the start of a search to the end, in order; empty where the search did not reach it."""
    if end not in found:
        return []
    route = [end]
    while found[route[-1]] >= 0:
        edge = graph.edges[found[route[-1]]]
        route.append(edge.a if edge.b == route[-1] else edge.b)
    return route[::-1]


def _last_draw(ways: Ways, graph: Graph, route: list[int]) -> int | None:
    """The last vertex of the route from which an outlet is fed sideways, or None."""
    on_route = frozenset(route)
    taps = frozenset(graph.outlets.values())
    seen: set[int] = set()
    for vertex in reversed(route):
        frontier = [other for other, _ in ways[vertex] if other not in on_route and other not in seen]
        seen.update(frontier)
        for here in frontier:
            if here in taps:
                return vertex
            if here in graph.hearts:
                continue
            for other, _ in ways[here]:
                if other not in seen and other not in on_route:
                    seen.add(other)
                    frontier.append(other)
    return None


def _rings(graph: Graph, joins: set[int]) -> set[int]:
    """The edges that lie on a ring of pipe; heaters, mixing valves and return joins do not close one."""
    out = graph.hearts | graph.bypasses
    ways: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for number, (a, b, _, _) in enumerate(graph.edges):
        if number not in joins and a not in out and b not in out:
            ways[a].append((b, number))
            ways[b].append((a, number))
    parting = bridges(ways, len(graph.names), lambda vertex: bool(ways[vertex]))
    return {
        number
        for number, (a, b, _, _) in enumerate(graph.edges)
        if number not in joins and number not in parting and a not in out and b not in out
    }


def _circuits(plan: Plan, graph: Graph, parents: Mapping[int, int]) -> dict[int, str]:
    """For each vertex behind a manifold port the port it hangs on (the nearest one upstream)."""
    ends = {
        graph.number[f"{part.id}/{port}"]: f"{part.id}/{port}"
        for part in plan.parts.values()
        if part.is_ == "manifold"
        for port, own in part.own.ports.items()  # type: ignore[union-attr]
        if own.use not in ("feed", "section")
    }
    found: dict[int, str] = {}
    for vertex, edge_number in parents.items():
        if edge_number < 0:
            continue
        edge = graph.edges[edge_number]
        before = edge.a if edge.b == vertex else edge.b
        if vertex in ends:
            if ends[vertex].partition("/")[0] == graph.names[before].partition("/")[0]:
                found[vertex] = ends[vertex]
        elif before in found and vertex not in graph.hearts:
            found[vertex] = found[before]
    return found


def temperature(plan: Plan, carried: Carried) -> SaidQuantity:
    """The temperature a run's water is set to: the heater's or the mixing valve's; None for cold or where not said."""
    if carried.heated_by is None:
        return None
    own = plan.parts[carried.heated_by].own
    found = own.set if isinstance(own, HeaterOwn | MixingOwn) else None
    return found if isinstance(found, Quantity | str) else None
