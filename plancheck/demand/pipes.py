"""Which way a pipe serves: each water as a tree hung on its source, with rings taken as one.

A water is what hangs together without passing a heater, a mixing valve or a listed bypass, and without stepping from
cold to hot. What a heater or a mixing valve feeds hangs on its inlets. Every pipe of a ring serves all that hangs on
the ring, as either side may be shut. Rings are found as blocks of the graph (R. E. Tarjan 1972, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.network.graph import Graph
from plancheck.network.search import Ways
from plancheck.network.trace import Traced

_WATER = {"cold": 1, "hot": 2, "hot return": 2, "mixed": 2}  # not potable water may be either


class Pipes:
    """The waters of a traced plan.

    ways: for each vertex its (next vertex, edge), within its water; water: vertex -> number of its water; entries: for
    each water the vertex where it comes in (several hang on one of their own, by edges below 0); inlets: vertex -> the
    water that a heater or mixing valve there feeds.
    """

    def __init__(self, graph: Graph, traced: Traced) -> None:
        self.ways = _ways(graph, traced)
        self.water: dict[int, int] = {}
        self._roots: list[list[int]] = []
        self.inlets: dict[int, int] = {}
        self._below = -1
        outlets = {heart: list(_ends(graph, heart, inward=False)) for heart in sorted(graph.hearts)}
        starts = [graph.source] if graph.source is not None else []
        for start in (*starts, *(end for ends in outlets.values() for end in ends)):
            self._come_in(start)
        self.entries = [roots[0] if len(roots) == 1 else self._joined(roots) for roots in self._roots]
        for heart, ends in outlets.items():
            for inlet in _ends(graph, heart, inward=True):
                if inlet in self.water and ends:
                    self.inlets[inlet] = self.water[ends[0]]

    def _come_in(self, start: int) -> None:
        if start in self.water:
            self._roots[self.water[start]].append(start)
            return
        number = len(self._roots)
        self._roots.append([start])
        self.water[start] = number
        frontier = [start]
        for vertex in frontier:  # grows while it is walked
            for other, _ in self.ways[vertex]:
                if other not in self.water:
                    self.water[other] = number
                    frontier.append(other)

    def _joined(self, roots: list[int]) -> int:
        """A vertex that several roots hang on, so that what lies between them is a ring."""
        vertex = len(self.ways)
        self.ways.append([])
        for root in roots:
            self._below -= 1
            self.ways[vertex].append((root, self._below))
            self.ways[root].append((vertex, self._below))
        return vertex

    def order(self) -> Iterator[int]:
        """The waters, each after those that its heaters and mixing valves feed; what feeds itself comes last."""
        feeds: list[set[int]] = [set() for _ in self._roots]
        for inlet, fed in self.inlets.items():
            if self.water[inlet] != fed:
                feeds[self.water[inlet]].add(fed)
        fed_by: list[list[int]] = [[] for _ in self._roots]
        for number, others in enumerate(feeds):
            for other in others:
                fed_by[other].append(number)
        waiting = [len(others) for others in feeds]
        ready = [number for number, count in enumerate(waiting) if not count]
        for number in ready:  # grows while it is walked
            for other in fed_by[number]:
                waiting[other] -= 1
                if not waiting[other]:
                    ready.append(other)
        yield from ready
        done = set(ready)
        yield from (number for number in range(len(self._roots)) if number not in done)


class Walks:
    """The waters walked depth first, each from where it comes in.

    above and came: the vertex and edge each vertex was met from (-1 for none); block: for each the vertex under which
    all hangs that its pipe serves (itself, but on a ring the first vertex behind the ring's entry).
    """

    def __init__(self, ways: Ways) -> None:
        self._ways = ways
        self._number = [-1] * len(ways)
        self.above = [-1] * len(ways)
        self.came = [-1] * len(ways)
        self.block = list(range(len(ways)))

    def order(self, entry: int) -> list[int]:
        """The vertices of one water as they are met; afterwards above, came and block hold for them."""
        number, found = self._number, [entry]
        number[entry] = 0
        stack = [(entry, iter(self._ways[entry]))]
        while stack:
            vertex, rest = stack[-1]
            for other, edge in rest:
                if number[other] < 0:
                    self.came[other], self.above[other] = edge, vertex
                    number[other] = len(found)
                    found.append(other)
                    stack.append((other, iter(self._ways[other])))
                    break
            else:
                stack.pop()
        self._find_blocks(found)
        return found

    def _find_blocks(self, order: list[int]) -> None:
        number, above, came = self._number, self.above, self.came
        low: dict[int, int] = {}
        for vertex in reversed(order):
            lowest = number[vertex]
            for other, edge in self._ways[vertex]:
                if edge != came[vertex]:  # back up a ring, or down to what hangs here
                    lowest = min(lowest, low[other] if came[other] == edge else number[other])
            low[vertex] = lowest
        for vertex in order[1:]:
            if low[vertex] < number[above[vertex]]:
                self.block[vertex] = self.block[above[vertex]]

    def edges(self, order: list[int]) -> Iterator[tuple[int, int]]:
        """Each pipe's edge in one water, and the vertex of its block."""
        number = self._number
        for vertex in order[1:]:
            for other, edge in self._ways[vertex]:
                if edge >= 0 and number[other] < number[vertex]:
                    yield edge, self.block[vertex]


def _ways(graph: Graph, traced: Traced) -> list[list[tuple[int, int]]]:
    out = graph.hearts | graph.bypasses
    water = {vertex: _WATER.get(service, 0) for vertex, service in traced.services.items() if vertex in traced.parents}
    ways: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for number, (a, b, _, _) in enumerate(graph.edges):
        if a in out or b in out or a not in water or b not in water:
            continue
        here, there = water[a], water[b]
        if here == there or not here or not there:
            ways[a].append((b, number))
            ways[b].append((a, number))
    return ways


def _ends(graph: Graph, heart: int, inward: bool) -> Iterator[int]:
    """The connections by which draws come into, or go out of, a heater or mixing valve; not that of its return."""
    for number in graph.touching[heart]:
        a, b, _, _ = graph.edges[number]
        if inward and b == heart and not graph.names[a].endswith("/return"):
            yield a
        elif not inward and a == heart:
            yield b
