"""The graph of connections: parts and runs as vertices and edges, with valves, stops and taps as vertices of their own.

Vertex names: `part/connection` for a connection, `part` for the inside of a part, and with an ending for the rest:
`:row` (a manifold's body at a port), `:valve` (a port's valve), `:stop` (a fixture's stop), `:tap` (where water leaves).
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import NamedTuple

from plancheck.building.refs import side_supply
from plancheck.kinds import KINDS
from plancheck.model import NONE, NOT_KNOWN, GaugePortOwn, ManifoldOwn, Part, Plan, Port, ValveOwn
from plancheck.network.joints import Builder, Edge, feeds_of, join_run, make_up
from plancheck.network.search import Ways

NO_STOP = (None, NONE, NOT_KNOWN)


class Graph(NamedTuple):
    """Vertices by number, their names and the edges between them.

    touching: for each vertex the numbers of its edges; ways: all that water may take, for each vertex its (next vertex,
    edge); source: the source's vertex or None; outlets: `part/side` of each outlet side -> its tap; valves: name of each
    valve or stop -> its vertex; closed: valves that are normally closed; hearts: the insides of heaters and mixing
    valves, which a trace does not simply pass; bypasses: listed return bypasses.
    """

    names: tuple[str, ...]
    number: Mapping[str, int]
    edges: tuple[Edge, ...]
    touching: tuple[tuple[int, ...], ...]
    ways: Ways
    source: int | None
    outlets: Mapping[str, int]
    valves: Mapping[str, int]
    closed: frozenset[int]
    hearts: frozenset[int]
    bypasses: frozenset[int]


def build_graph(plan: Plan) -> Graph:
    """The graph of a plan; existing work included, removed work left out."""
    builder = Builder()
    for part in plan.parts.values():
        if part.work != "removed":
            _BUILD[KINDS[part.is_].sort](builder, part)
    runs = [run for run in plan.runs.values() if run.from_ and run.to and run.work != "removed"]
    feeds = feeds_of(builder, plan, runs) if builder.duals else {}
    for run in runs:
        join_run(builder, run, feeds)
    for part in plan.parts.values():
        if part.onto is not None and part.work != "removed":
            make_up(builder, part, part.onto, feeds)
    return _finished(builder, plan)


def _finished(builder: Builder, plan: Plan) -> Graph:
    touching: list[list[int]] = [[] for _ in builder.names]
    ways: list[list[tuple[int, int]]] = [[] for _ in builder.names]
    for number, (a, b, _, one_way) in enumerate(builder.edges):
        touching[a].append(number)
        touching[b].append(number)
        ways[a].append((b, number))
        if not one_way:
            ways[b].append((a, number))
    sources = (part.id for part in plan.parts.values() if part.is_ == "source" and part.work != "removed")
    source = next(sources, None)
    return Graph(
        tuple(builder.names),
        builder.number,
        tuple(builder.edges),
        tuple(map(tuple, touching)),
        ways,
        builder.number[f"{source}/out"] if source is not None else None,
        builder.outlets,
        builder.valves,
        frozenset(builder.closed),
        frozenset(builder.hearts),
        frozenset(builder.bypasses),
    )


def _supply(builder: Builder, part: Part) -> None:
    builder.vertex(f"{part.id}/out")


def _device(builder: Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    arrow = KINDS[part.is_].arrow
    builder.edge(builder.vertex(f"{part.id}/in"), inside, None, arrow)
    builder.edge(inside, builder.vertex(f"{part.id}/out"), None, arrow)
    if isinstance(part.own, ValveOwn):
        if part.own.style == "thermal bypass":
            builder.bypasses.add(inside)
        else:
            builder.valve(part.id, inside, part.own.normally)


def _fork(builder: Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    for name in ("in", "out", "branch"):
        builder.edge(builder.vertex(f"{part.id}/{name}"), inside)


def _manifold(builder: Builder, part: Part) -> None:
    if not isinstance(part.own, ManifoldOwn):
        return
    row = [_port(builder, part, port) for port in part.own.ports.values()]
    for a, b in pairwise(row):
        builder.edge(a, b)
    if part.own.shape == "ring" and len(row) > 2:
        builder.edge(row[-1], row[0])


def _port(builder: Builder, part: Part, port: Port) -> int:
    name = f"{part.id}/{port.id}"
    if port.use == "section":
        inside = builder.vertex(f"{name}:valve")
        builder.valve(name, inside, port.normally)
        return inside
    row, end = builder.vertex(f"{name}:row"), builder.vertex(name)
    if port.valve in NO_STOP:
        builder.edge(row, end)
        return row
    valve = builder.vertex(f"{name}:valve")
    builder.valve(name, valve, port.normally)
    builder.edge(row, valve)
    builder.edge(valve, end)
    return row


def _heart(builder: Builder, part: Part) -> None:
    """A heater or a mixing valve: water goes in by all its connections but one."""
    inside = builder.vertex(part.id)
    builder.hearts.add(inside)
    kind = KINDS[part.is_]
    out = "hot" if kind.sort == "heater" else "mixed"
    for name in kind.connections:
        end = builder.vertex(f"{part.id}/{name}")
        a, b = (inside, end) if name == out else (end, inside)
        builder.edge(a, b, None, True)


def _fixture(builder: Builder, part: Part) -> None:
    for side in KINDS[part.is_].connections:
        name = f"{part.id}/{side}"
        end, tap = builder.vertex(name), builder.vertex(f"{name}:tap")
        builder.outlets[name] = tap
        supply = side_supply(part, side)
        if supply is None or supply.stop in NO_STOP:
            builder.edge(end, tap, None, True)
            continue
        if supply.stop == "dual":
            builder.duals.add(name)
        stop = builder.vertex(f"{name}:stop")
        builder.valve(name, stop, None)
        builder.edge(end, stop, None, True)
        builder.edge(stop, tap, None, True)


def _end(builder: Builder, part: Part) -> None:
    end = builder.vertex(f"{part.id}/in")
    if isinstance(part.own, GaugePortOwn) and part.own.valve not in NO_STOP:
        inside = builder.vertex(f"{part.id}:valve")
        builder.valve(part.id, inside, part.own.normally)
        builder.edge(end, inside)


_BUILD = {
    "supply": _supply,
    "device": _device,
    "fork": _fork,
    "manifold": _manifold,
    "heater": _heart,
    "mixing": _heart,
    "fixture": _fixture,
    "end": _end,
}


def directed(graph: Graph, without: frozenset[int] = frozenset(), barred: frozenset[int] = frozenset()) -> Ways:
    """The ways water may take: for each vertex its (next vertex, edge); no edge in without, no vertex in barred.

    Only what lies at those is made anew.
    """
    if not without and not barred:
        return graph.ways
    ways = list(graph.ways)
    edges = [graph.edges[number] for number in without.union(*(graph.touching[vertex] for vertex in barred))]
    for vertex in {end for edge in edges for end in edge[:2]}:
        ways[vertex] = [way for way in ways[vertex] if way[0] not in barred and way[1] not in without]
    for vertex in barred:
        ways[vertex] = []
    return ways
