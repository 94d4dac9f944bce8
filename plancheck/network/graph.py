"""The graph of connections: parts and runs as vertices and edges, with valves, stops and taps as vertices of their own.

Vertex names: `part/connection` for a connection, `part` for the inside of a part, and with an ending for the rest:
`:row` (a manifold's body at a port), `:valve` (a port's valve), `:stop` (a fixture's stop), `:tap` (where water leaves).
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import NamedTuple

from plancheck.building.refs import side_supply
from plancheck.kinds import KINDS
from plancheck.model import NONE, NOT_KNOWN, GaugePortOwn, ManifoldOwn, Part, Plan, Port, Ref, ValveOwn

NO_STOP = (None, NONE, NOT_KNOWN)


class Edge(NamedTuple):
    """A way for water from vertex a to vertex b, and back unless one_way; run: the run it stands for, if any."""

    a: int
    b: int
    run: str | None
    one_way: bool


class Graph(NamedTuple):
    """Vertices by number, their names and the edges between them.

    touching: for each vertex the numbers of its edges; source: the source's vertex or None; outlets: `part/side` of
    each outlet side -> its tap; valves: name of each valve or stop -> its vertex; closed: valves that are normally
    closed; hearts: the insides of heaters and mixing valves, which a trace does not simply pass; bypasses: listed
    return bypasses.
    """

    names: tuple[str, ...]
    number: Mapping[str, int]
    edges: tuple[Edge, ...]
    touching: tuple[tuple[int, ...], ...]
    source: int | None
    outlets: Mapping[str, int]
    valves: Mapping[str, int]
    closed: frozenset[int]
    hearts: frozenset[int]
    bypasses: frozenset[int]


class _Builder:
    def __init__(self) -> None:
        self.names: list[str] = []
        self.number: dict[str, int] = {}
        self.edges: list[Edge] = []
        self.outlets: dict[str, int] = {}
        self.valves: dict[str, int] = {}
        self.closed: set[int] = set()
        self.hearts: set[int] = set()
        self.bypasses: set[int] = set()

    def vertex(self, name: str) -> int:
        number = self.number.get(name)
        if number is None:
            number = self.number[name] = len(self.names)
            self.names.append(name)
        return number

    def edge(self, a: int, b: int, run: str | None = None, one_way: bool = False) -> None:
        self.edges.append(Edge(a, b, run, one_way))

    def valve(self, name: str, vertex: int, normally: str | None) -> None:
        self.valves[name] = vertex
        if normally == "closed":
            self.closed.add(vertex)


def build_graph(plan: Plan) -> Graph:
    """The graph of a plan; existing work included, removed work left out."""
    builder = _Builder()
    for part in plan.parts.values():
        if part.work != "removed":
            _BUILD[KINDS[part.is_].sort](builder, part)
    for run in plan.runs.values():
        if run.from_ is not None and run.to is not None and run.work != "removed":
            builder.edge(builder.vertex(str(run.from_)), builder.vertex(str(run.to)), run.id)
    taken: set[Ref] = {run.to for run in plan.runs.values() if run.to is not None}
    for part in plan.parts.values():
        if part.onto is not None and part.work != "removed":
            _made_up(builder, plan, part, taken)
    return _finished(builder, plan)


def _finished(builder: _Builder, plan: Plan) -> Graph:
    touching: list[list[int]] = [[] for _ in builder.names]
    for number, edge in enumerate(builder.edges):
        touching[edge.a].append(number)
        touching[edge.b].append(number)
    source = next(
        (
            builder.number[f"{part.id}/out"]
            for part in plan.parts.values()
            if part.is_ == "source" and part.work != "removed"
        ),
        None,
    )
    return Graph(
        tuple(builder.names),
        builder.number,
        tuple(builder.edges),
        tuple(map(tuple, touching)),
        source,
        builder.outlets,
        builder.valves,
        frozenset(builder.closed),
        frozenset(builder.hearts),
        frozenset(builder.bypasses),
    )


def _supply(builder: _Builder, part: Part) -> None:
    builder.vertex(f"{part.id}/out")


def _device(builder: _Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    arrow = KINDS[part.is_].arrow
    builder.edge(builder.vertex(f"{part.id}/in"), inside, None, arrow)
    builder.edge(inside, builder.vertex(f"{part.id}/out"), None, arrow)
    if isinstance(part.own, ValveOwn):
        if part.own.style == "thermal bypass":
            builder.bypasses.add(inside)
        else:
            builder.valve(part.id, inside, part.own.normally)


def _fork(builder: _Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    for name in ("in", "out", "branch"):
        builder.edge(builder.vertex(f"{part.id}/{name}"), inside)


def _manifold(builder: _Builder, part: Part) -> None:
    if not isinstance(part.own, ManifoldOwn):
        return
    row = [_port(builder, part, port) for port in part.own.ports.values()]
    for a, b in pairwise(row):
        builder.edge(a, b)
    if part.own.shape == "ring" and len(row) > 2:
        builder.edge(row[-1], row[0])


def _port(builder: _Builder, part: Part, port: Port) -> int:
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


def _heater(builder: _Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    builder.hearts.add(inside)
    builder.edge(builder.vertex(f"{part.id}/cold"), inside, None, True)
    builder.edge(inside, builder.vertex(f"{part.id}/hot"), None, True)
    builder.edge(builder.vertex(f"{part.id}/return"), inside, None, True)


def _mixing(builder: _Builder, part: Part) -> None:
    inside = builder.vertex(part.id)
    builder.hearts.add(inside)
    builder.edge(builder.vertex(f"{part.id}/cold"), inside, None, True)
    builder.edge(builder.vertex(f"{part.id}/hot"), inside, None, True)
    builder.edge(inside, builder.vertex(f"{part.id}/mixed"), None, True)


def _fixture(builder: _Builder, part: Part) -> None:
    for side in KINDS[part.is_].connections:
        name = f"{part.id}/{side}"
        end, tap = builder.vertex(name), builder.vertex(f"{name}:tap")
        builder.outlets[name] = tap
        supply = side_supply(part, side)
        if supply is None or supply.stop in NO_STOP:
            builder.edge(end, tap, None, True)
            continue
        stop = builder.vertex(f"{name}:stop")
        builder.valve(name, stop, None)
        builder.edge(end, stop, None, True)
        builder.edge(stop, tap, None, True)


def _end(builder: _Builder, part: Part) -> None:
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
    "heater": _heater,
    "mixing": _mixing,
    "fixture": _fixture,
    "end": _end,
}


def _made_up(builder: _Builder, plan: Plan, part: Part, taken: set[Ref]) -> None:
    """Joins a part made up directly to another: its `in`, feed or only connection to that part's connection."""
    target = part.onto
    if target is None:
        return
    own = builder.vertex(f"{part.id}/{inward(part)}")
    there = plan.parts[target.part]
    outer = builder.vertex(str(target))
    supply = side_supply(there, target.connection)
    if supply is not None and target in taken and supply.stop not in NO_STOP:
        second = builder.vertex(f"{part.id}/{inward(part)}:second")  # the other outlet of a dual stop
        builder.valve(f"{part.id}/{inward(part)}", second, None)
        builder.edge(outer, second, None, True)
        builder.edge(second, own, None, True)
    else:
        builder.edge(outer, own)
    taken.add(target)


def inward(part: Part) -> str:
    """The connection of a part that `onto` or a run's `to` means when it is left out."""
    if isinstance(part.own, ManifoldOwn):
        return next(port.id for port in part.own.ports.values() if port.use == "feed")
    return KINDS[part.is_].inward or KINDS[part.is_].connections[0]


def directed(
    graph: Graph, without: frozenset[int] = frozenset(), barred: frozenset[int] = frozenset()
) -> list[list[tuple[int, int]]]:
    """The ways water may take: for each vertex its (next vertex, edge); none in without or barred."""
    ways: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for number, (a, b, _, one_way) in enumerate(graph.edges):
        if number in without or a in barred or b in barred:
            continue
        ways[a].append((b, number))
        if not one_way:
            ways[b].append((a, number))
    return ways
