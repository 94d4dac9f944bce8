"""Loads of random networks against sets found by networkx: take a pipe's block away, see which taps lose their way."""

from __future__ import annotations

import itertools

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.demand.loads import Loads
from plancheck.demand.weights import WEIGHTS
from plancheck.kinds import KINDS
from tests.demand.houses import net_loads
from tests.network.nets import ANY_ENDS, ANY_PARTS, Net, any_lines, net

ROWS = {"toilet": "tank toilet"}
Sides = frozenset[str]  # of outlets, `part/side`


def whole(found: Net) -> nx.Graph:
    """All pipe that water reaches, each edge a node of its own so that doubled ones stay apart; hearts left out."""
    graph = found.graph
    fed = found.traced.parents
    pipe = nx.Graph()
    pipe.add_nodes_from(vertex for vertex in fed if vertex not in graph.hearts)
    for number, (a, b, _, _) in enumerate(graph.edges):
        if found.traced.services.get(a) is None or found.traced.services.get(b) is None:
            continue  # cut apart by the trace
        waters = {"cold" if found.traced.services[end] == "cold" else "hot" for end in (a, b)}
        if a in fed and b in fed and not graph.hearts & {a, b} and len(waters) == 1:
            nx.add_path(pipe, (a, ("edge", number), b))
    return pipe


class Search:
    """Which sides hang behind each run, by removal."""

    def __init__(self, found: Net) -> None:
        self.found = found
        self.pipe = whole(found)
        graph = found.graph
        outs = {edge.a: edge.b for edge in graph.edges if edge.a in graph.hearts}
        self.roots = {graph.source, *outs.values()}
        self.behind = {  # inlet -> outlet, the way the trace lets water pass (a heater may be piped backwards)
            edge.a: outs[edge.b]
            for edge in graph.edges
            if edge.b in graph.hearts and not graph.names[edge.a].endswith("/return")
        }
        self.pipe.add_nodes_from(end for ways in self.behind.items() for end in ways)
        self.water = {
            vertex: number for number, vertices in enumerate(nx.connected_components(self.pipe)) for vertex in vertices
        }
        ways = ((self.water[inlet], self.water[out]) for inlet, out in self.behind.items())
        self.waters = nx.DiGraph([(one, other) for one, other in ways if one != other])

    def hung(self, vertices: set[object]) -> Sides:
        """The taps among the vertices, and all that heaters among them feed (what feeds its own water adds nothing)."""
        taps = {name for name, tap in self.found.graph.outlets.items() if tap in vertices}
        for inlet, out in self.behind.items():
            if inlet in vertices and self.water[out] != self.water[inlet]:
                taps |= self.hung(set(nx.node_connected_component(self.pipe, out)))
        return frozenset(taps)

    def runs(self) -> dict[int, Sides]:
        """The sides behind each edge whose water comes in somewhere; several entries hang on one of their own."""
        found: dict[int, Sides] = {}
        for vertices in map(set, nx.connected_components(self.pipe)):
            entries = [root for root in self.roots if root in vertices]
            water = nx.Graph(self.pipe.subgraph(vertices))
            water.add_edges_from(("entry", root) for root in entries)
            for block in nx.biconnected_components(water) if entries else ():
                if edges := [node[1] for node in block if isinstance(node, tuple)]:
                    found.update(dict.fromkeys(edges, self._behind(water, block)))
        return found

    def _behind(self, water: nx.Graph, block: set[object]) -> Sides:
        """What has no way to the entry without the pipes of the block."""
        cut = water.subgraph(set(water) - {node for node in block if isinstance(node, tuple)})
        return self.hung(set(water) - set(nx.node_connected_component(cut, "entry")))


def one_by_one(found: Net, sides: Sides, family: str) -> tuple[float, float, float]:
    """The fixture units of a set of sides, from the table."""
    cold = hot = total = 0.0
    parts = sorted({side.partition("/")[0] for side in sides})
    for part in parts:
        kind = found.plan.parts[part].is_
        weight = WEIGHTS[family][ROWS.get(kind, kind)]
        mine = {side.partition("/")[2] for side in sides if side.startswith(f"{part}/")}
        worth = (weight.cold if "cold" in mine else 0.0, weight.hot if "hot" in mine else 0.0)
        cold, hot = cold + worth[0], hot + worth[1]
        total += weight.total if mine == set(KINDS[kind].connections) else sum(worth)
    return cold, hot, total


def compare(found: Net, loads: Loads, family: str) -> int:
    """Compares all runs that have a way in; how many there were."""
    search, compared = Search(found), 0
    if not nx.is_directed_acyclic_graph(search.waters):
        return 0  # heaters that feed each other: no order to count in
    runs = search.runs()
    for number, edge in enumerate(found.graph.edges):
        if edge.run is None:
            continue
        single = loads[edge.run].single
        assert (single is not None) is (number in runs), edge.run
        if single is not None:
            expected = one_by_one(found, runs[number], family)
            got = (single.cold, single.hot, single.total)
            assert all(abs(a - b) < 1e-9 for a, b in zip(got, expected, strict=True)), (edge.run, got, runs[number])
            compared += 1
    return compared


@given(st.permutations(ANY_ENDS), st.integers(2, len(ANY_ENDS) // 2), st.sampled_from(["irc", "upc"]))
@settings(max_examples=150, deadline=None)
def test_random_networks(ends: list[str], pairs: int, family: str) -> None:
    found = net(ANY_PARTS, "\n".join(any_lines(ends, pairs)))
    compare(found, net_loads(found, family), family)


def test_a_whole_house_of_every_pair_of_ways() -> None:
    """All ways to join ends of a tee, a ring and two fixtures in two runs, beside those that are fixed."""
    compared = 0
    for ends in itertools.permutations(["t1/out", "t1/branch", "f1/cold", "ra/3", "f3"], 4):
        found = net(ANY_PARTS, "\n".join(any_lines(list(ends), 2)))
        compared += compare(found, net_loads(found, "irc"), "irc")
    assert compared > 120 * 3
