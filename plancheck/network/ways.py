"""The graph of connections as data, and the ways that water may take on it."""

from collections.abc import Mapping, Sequence

from plancheck.network.joints import Edge
from plancheck.network.search import Ways
from plancheck.record import NamedTuple


class Graph(NamedTuple):
    """Vertices by number, their names and the edges between them.

    touching: for each vertex the numbers of its edges; ways: all that water may take, for each vertex its (next vertex,
    edge), the crossovers left out; source: the source's vertex or None; outlets: `part/side` of each outlet side -> its
    tap; valves: name of each valve or stop -> its vertex; closed: valves that are normally closed; hearts: the insides of
    heaters and mixing valves, which a trace does not simply pass; bypasses: listed return bypasses; crossovers: the runs
    (or parts) that join hot and cold where nothing should; joins: their edges; swapped: the heaters with the feed on
    their hot side, whose edges are turned.
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
    crossovers: tuple[str, ...] = ()
    joins: frozenset[int] = frozenset()
    swapped: frozenset[str] = frozenset()

    def hot_of(self, heater: str) -> int | None:
        """The vertex at which a heater gives its water: its hot side, where its two sides are swapped the cold one."""
        return self.number.get(f"{heater}/{'cold' if heater in self.swapped else 'hot'}")


def ways_of(edges: Sequence[Edge], count: int) -> list[list[tuple[int, int]]]:
    """All that water may take along the edges: for each vertex its (next vertex, edge)."""
    ways: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for number, (a, b, _, one_way) in enumerate(edges):
        ways[a].append((b, number))
        if not one_way:
            ways[b].append((a, number))
    return ways


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
