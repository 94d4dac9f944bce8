"""Rings that manifolds make, each by itself or joined by pipe: which ports go dry when any one piece of one is out."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Part
from plancheck.network.waters import HOT, MIXED, RETURN
from plancheck.record import NamedTuple

_WARM = (HOT, RETURN, MIXED)


class Ringed(NamedTuple):
    """What hangs together by pieces of rings.

    edges and vertices: of the graph; manifolds: ids of those with a row on it; drawn: whether one of them is written as a
    ring; hot: whether it carries hot water; circulated: whether a pump drives that round, or a hot return leaves it;
    closed: names of the valves on it that are left closed.
    """

    edges: tuple[int, ...]
    vertices: frozenset[int]
    manifolds: tuple[str, ...]
    drawn: bool
    hot: bool
    circulated: bool
    closed: tuple[str, ...]


class Out(NamedTuple):
    """A piece of a ring, by name, and the ports (`manifold/port`) that get no water when it is out."""

    piece: str
    dry: tuple[str, ...]


def ringed(facts: Facts) -> tuple[Ringed, ...]:
    """All rings of a plan, in the order of their pipe; where hot and cold are joined only those of single manifolds."""
    graph, rings = facts.network, facts.traced.rings
    edges: Iterable[int] = sorted(rings)
    if facts.traced.crossovers:
        edges = [number for number in edges if _in_one_manifold(facts, number)]
    return tuple(_told(facts, group) for group in _grouped(facts, edges)) if graph.edges else ()


def _in_one_manifold(facts: Facts, number: int) -> bool:
    a, b, run, _ = facts.network.edges[number]
    here, there = (facts.network.names[end].partition("/")[0] for end in (a, b))
    own = facts.plan.parts[here].own
    return run is None and here == there and isinstance(own, ManifoldOwn) and own.shape == "ring"


def _grouped(facts: Facts, edges: Iterable[int]) -> Iterator[list[int]]:
    """The edges that hang together."""
    left = dict.fromkeys(edges)
    around: dict[int, list[int]] = {}
    for number in left:
        for end in facts.network.edges[number][:2]:
            around.setdefault(end, []).append(number)
    while left:
        group = [next(iter(left))]
        del left[group[0]]
        for number in group:  # grows while it is walked
            for end in facts.network.edges[number][:2]:
                new = [one for one in around[end] if one in left]
                group += new
                for one in new:
                    del left[one]
        yield group


def _told(facts: Facts, group: list[int]) -> Ringed:
    graph, parts, services = facts.network, facts.plan.parts, facts.traced.services
    vertices = frozenset(end for number in group for end in graph.edges[number][:2])
    owners = dict.fromkeys(graph.names[vertex].partition("/")[0].partition(":")[0] for vertex in sorted(vertices))
    manifolds = [id_ for id_ in owners if isinstance(parts[id_].own, ManifoldOwn)]
    warm = any(services.get(vertex) in _WARM for vertex in vertices)
    pumped = any(parts[id_].is_ == "pump" for id_ in owners)
    return Ringed(
        tuple(group),
        vertices,
        tuple(manifolds),
        any(own.shape == "ring" for id_ in manifolds if isinstance(own := parts[id_].own, ManifoldOwn)),
        warm,
        warm and (pumped or _gives_return(facts, vertices) or _feeds_pump(facts, manifolds)),
        tuple(name for name, vertex in graph.valves.items() if vertex in vertices and vertex in graph.closed),
    )


def _gives_return(facts: Facts, vertices: frozenset[int]) -> bool:
    """Whether a hot return lies on it, or leaves it."""
    graph, services = facts.network, facts.traced.services
    near = (end for vertex in vertices for number in graph.touching[vertex] for end in graph.edges[number][:2])
    return any(services.get(end) == RETURN for end in near)


def _feeds_pump(facts: Facts, manifolds: Collection[str]) -> bool:
    """Whether a pump hangs on a port of one of the manifolds."""
    number, circuits = facts.network.number, facts.traced.circuits
    pumps = (part.id for part in facts.plan.parts.values() if part.is_ == "pump" and part.work != "removed")
    return any(circuits.get(number[id_], "").partition("/")[0] in manifolds for id_ in pumps)


def used_ports(facts: Facts, part: Part) -> list[str]:
    """The ports of a manifold, in order, on which a run or a part hangs to draw water; on a layout all that are drawn."""
    if not isinstance(part.own, ManifoldOwn):
        return []
    graph = facts.network
    found = []
    for port in part.own.ports.values():
        if port.use in ("feed", "test", "spare", "section"):
            continue
        joined = len(graph.touching[graph.number[f"{part.id}/{port.id}"]]) > 1
        if joined or facts.stage == "layout":
            found.append(port.id)
    return found


def worst_out(facts: Facts, ring: Ringed, ports: Collection[str]) -> Out | None:
    """The piece that leaves most of the ports without water when it is out; None where each has water whichever is out.

    ports: names `manifold/port`. Valves that are left closed let none pass, arrows one way only.
    """
    graph = facts.network
    if not ring.closed and not any(graph.edges[number].one_way for number in ring.edges):
        return None  # taking one piece out of a ring parts nothing
    rows = {name: graph.number[f"{name}:row"] for name in ports if graph.number.get(f"{name}:row") in ring.vertices}
    worst: Out | None = None
    for number in ring.edges:
        wet = _wet(facts, ring, number)
        dry = tuple(name for name, row in rows.items() if row not in wet)
        if dry and (worst is None or len(dry) > len(worst.dry)):
            worst = Out(_piece(facts, number), dry)
    return worst


def _wet(facts: Facts, ring: Ringed, out: int) -> set[int]:
    """The vertices of the ring that water comes to with one piece out."""
    graph, within = facts.network, set(ring.edges) - {out}
    frontier = _entries(facts, ring)
    wet = set(frontier)
    for vertex in frontier:  # grows while it is walked
        for other, number in graph.ways[vertex]:
            if number in within and other not in wet and other not in graph.closed:
                wet.add(other)
                frontier.append(other)
    return wet


def _entries(facts: Facts, ring: Ringed) -> list[int]:
    """Where water comes into the ring: from the pipe before it, else at the feeds of its manifolds."""
    graph, parents, edges = facts.network, facts.traced.parents, set(ring.edges)
    found = [vertex for vertex in sorted(ring.vertices) if parents.get(vertex, -1) not in edges and vertex in parents]
    if found:
        return found
    parts = facts.plan.parts
    feeds = [
        graph.number[f"{id_}/{port.id}:row"]
        for id_ in ring.manifolds
        for port in parts[id_].own.ports.values()  # type: ignore[union-attr]
        if port.use == "feed"
    ]
    return [vertex for vertex in feeds if vertex in ring.vertices]


def _piece(facts: Facts, number: int) -> str:
    """A piece of a ring in words."""
    a, b, run, _ = facts.network.edges[number]
    if run is not None:
        return run
    here, there = (facts.network.names[end].partition(":")[0] for end in (a, b))
    if here.partition("/")[0] == there.partition("/")[0] and "/" in here and "/" in there:
        return f"the piece between {here.partition('/')[2]} and {there.partition('/')[2]}"
    return f"the piece from {here} to {there}"
