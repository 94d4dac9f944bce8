"""The graph of connections: parts and runs as vertices and edges, with valves, stops and taps as vertices of their own.

Vertex names: `part/connection` for a connection, `part` for the inside of a part, and with an ending for the rest:
`:row` (a manifold's body at a port), `:valve` (a port's valve), `:stop` (a fixture's stop), `:tap` (where water leaves).
"""

from itertools import pairwise

from plancheck.building.refs import side_supply
from plancheck.kinds import KINDS
from plancheck.model import NONE, NOT_KNOWN, GaugePortOwn, ManifoldOwn, Part, Plan, Port, ValveOwn
from plancheck.network.crossing import set_apart
from plancheck.network.joints import Builder, feeds_of, join_run, make_up
from plancheck.network.ways import Graph, directed, ways_of

__all__ = ["Graph", "build_graph", "directed"]

NO_STOP = (None, NONE, NOT_KNOWN)


def build_graph(plan: Plan) -> Graph:
    """The graph of a plan; existing work included, removed work left out.

    Heaters joined the wrong way round are turned, and what wrongly joins hot and cold is no way for water: all that is
    asked of the graph is answered as if the one were swapped and the other out.
    """
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
    return set_apart(plan, _finished(builder, plan))


def _finished(builder: Builder, plan: Plan) -> Graph:
    touching: list[list[int]] = [[] for _ in builder.names]
    for number, (a, b, _, _) in enumerate(builder.edges):
        touching[a].append(number)
        touching[b].append(number)
    sources = (part.id for part in plan.parts.values() if part.is_ == "source" and part.work != "removed")
    source = next(sources, None)
    return Graph(
        tuple(builder.names),
        builder.number,
        tuple(builder.edges),
        tuple(map(tuple, touching)),
        ways_of(builder.edges, len(builder.names)),
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
