"""Which water each run carries, traced from the source and the heaters, never from what a plan declares.

Cold from the source; hot from a heater's outlet on, and still hot behind a mixing valve at the heater, at that valve's
temperature; hot return from the loop's last draw back; mixed only behind a valve at a fixture; not potable behind a
declared device or source. Closed valves do not stop a trace: people open them.
"""

from collections.abc import Mapping

from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, MixingOwn, Plan, SaidQuantity
from plancheck.network.graph import Graph, directed
from plancheck.network.search import bridges, reach
from plancheck.network.waters import HOT, MIXED, RETURN, Waters, find_waters
from plancheck.record import NamedTuple


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
    ways = graph.ways
    waters = find_waters(plan, graph, directed(graph, barred=graph.bypasses))
    parents = reach(ways, [graph.source]) if graph.source is not None else {}
    rings = _rings(graph, waters.joins)
    circuits = _circuits(plan, graph, parents)
    runs = {}
    for number, (a, b, run, _) in enumerate(graph.edges):
        if run is not None:
            service, heated = _carried(waters, a, b)
            circuit, fed = circuits.get(b, circuits.get(a)), a in parents or b in parents
            runs[run] = Carried(service, heated, number in rings, parents.get(a) == number, circuit, fed)
    return Traced(
        runs,
        waters.services,
        waters.heated,
        parents,
        circuits,
        graph.crossovers,
        tuple(waters.returns),
        frozenset(rings),
    )


def _carried(waters: Waters, a: int, b: int) -> tuple[str | None, str | None]:
    """The service of a run between the two vertices, and what sets its temperature."""
    service = waters.services.get(a)
    if service is None or waters.services.get(b) == RETURN:
        service = waters.services.get(b)
    heated = waters.heated.get(a, waters.heated.get(b)) if service in (HOT, RETURN, MIXED) else None
    return service, heated


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
        if part.is_ == "manifold" and part.work != "removed"
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
