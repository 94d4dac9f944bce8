"""The return part of hot loops: what lies nearer to a loop's end than any of its draws.

The hot pipe behind a heater is walked once, depth first; whatever hangs on a single run (a bridge, found as R. E.
Tarjan does, 1974, from memory) then tells by the taps it holds whether it is a draw. Any number of returns costs one walk.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.network.graph import Graph


class HotPipe:
    """The warm vertices behind a start, heater or mixing valve: the way back from each, bridges, draws."""

    def __init__(self, graph: Graph, start: int, warm: Mapping[int, bool]) -> None:
        self.graph = graph
        self.start = start
        self.warm = warm
        self.came: dict[int, int] = {start: -1}  # vertex -> edge by which the walk met it
        self._walk()
        self.below: dict[int, int] = {}  # vertex -> taps met from it on
        self.side: dict[int, int] = {}  # vertex -> taps of its own, and behind the bridges that leave it
        self.bridges: set[int] = set()
        self._count()

    def tail(self, ends: Iterable[int]) -> set[int]:
        """The vertices of the return part of all these loops; none of a loop that has no draw at all."""
        found: set[int] = set()
        for end in ends:
            if end in self.came:
                found |= self._tail(end, found)
        return found

    def _around(self, vertex: int) -> list[tuple[int, int]]:
        ways = ((other_end(self.graph, edge, vertex), edge) for edge in self.graph.touching[vertex])
        return [way for way in ways if self.warm.get(way[0]) and way[0] not in self.graph.hearts]

    def _walk(self) -> None:
        stack = [(self.start, iter(self._around(self.start)))]
        while stack:
            for other, edge in stack[-1][1]:
                if other not in self.came:
                    self.came[other] = edge
                    stack.append((other, iter(self._around(other))))
                    break
            else:
                stack.pop()

    def _count(self) -> None:
        taps = frozenset(self.graph.outlets.values())
        number = {vertex: place for place, vertex in enumerate(self.came)}
        low: dict[int, int] = {}
        for vertex in reversed(self.came):
            lowest, below, side = number[vertex], int(vertex in taps), int(vertex in taps)
            for other, edge in self._around(vertex):
                if edge == self.came[vertex]:
                    continue
                if self.came[other] != edge:
                    lowest = min(lowest, number[other])
                    continue
                lowest = min(lowest, low[other])
                below += self.below[other]
                if low[other] == number[other]:
                    self.bridges.add(edge)
                    side += self.below[other]
            low[vertex], self.below[vertex], self.side[vertex] = lowest, below, side

    def _tail(self, end: int, known: set[int]) -> set[int]:
        """From the end back towards the start, along rings both ways, as far as the nearest draws."""
        tail: dict[int, None] = {}
        frontier = [(end, 0)]
        for vertex, behind in frontier:  # grows while it is walked; behind: taps of the branch one came from
            if vertex in tail or vertex in known or self.side[vertex] > behind:
                continue
            if vertex == self.start:
                return set()
            tail[vertex] = None
            for other, edge in self._around(vertex):
                if edge not in self.bridges:
                    frontier.append((other, 0))
                elif edge == self.came[vertex]:
                    frontier.append((other, self.below[vertex]))
        return set(tail)


def other_end(graph: Graph, edge: int, vertex: int) -> int:
    """The vertex at the other end of an edge."""
    a, b, _, _ = graph.edges[edge]
    return b if a == vertex else a
