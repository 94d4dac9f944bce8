"""Graph searches, each linear or nearly so: reach, bridges, dominators. Vertices are numbers; no plumbing here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

Ways = Sequence[Sequence[tuple[int, int]]]  # for each vertex its (next vertex, edge number)


def reach(ways: Ways, starts: Iterable[int], stop: frozenset[int] = frozenset()) -> dict[int, int]:
    """Vertices reached from the starts, breadth first: vertex -> edge number it was reached by (-1 for a start).

    A vertex in stop is reached but not passed. The order of the result is the order of discovery.
    """
    found = dict.fromkeys(starts, -1)
    frontier = list(found)
    for vertex in frontier:  # grows while it is walked
        if vertex in stop:
            continue
        for other, edge in ways[vertex]:
            if other not in found:
                found[other] = edge
                frontier.append(other)
    return found


def bridges(ways: Ways, count: int, member: Callable[[int], bool]) -> set[int]:
    """Edge numbers whose removal parts the undirected graph of the members (Tarjan, without recursion).

    ways must hold every edge both ways; count is the number of vertices. Source: R. E. Tarjan, A note on finding the
    bridges of a graph, Information Processing Letters 2 (1974), from memory.
    """
    order = [0] * count
    low = [0] * count
    found: set[int] = set()
    clock = 0
    for root in range(count):
        if order[root] or not member(root):
            continue
        clock += 1
        order[root] = low[root] = clock
        stack = [(root, -1, iter(ways[root]))]
        while stack:
            vertex, came_by, rest = stack[-1]
            for other, edge in rest:
                if edge == came_by or not member(other):
                    continue
                if order[other]:
                    low[vertex] = min(low[vertex], order[other])
                    continue
                clock += 1
                order[other] = low[other] = clock
                stack.append((other, edge, iter(ways[other])))
                break
            else:
                stack.pop()
                if stack:
                    parent = stack[-1][0]
                    low[parent] = min(low[parent], low[vertex])
                    if low[vertex] > order[parent]:
                        found.add(came_by)
    return found


def dominators(ways: Ways, root: int) -> dict[int, int]:
    """The immediate dominator of each vertex reached from the root (the root's is itself).

    d dominates v when every way from the root to v passes d. Time grows as edges times log of vertices, at worst: T.
    Lengauer, R. E. Tarjan, A fast algorithm for finding dominators in a flowgraph (1979), simple form, from memory.
    """
    order, above = _depth_first(ways, root)
    number = {vertex: place for place, vertex in enumerate(order)}
    before: list[list[int]] = [[] for _ in order]
    for place, vertex in enumerate(order):
        for other, _ in ways[vertex]:
            before[number[other]].append(place)
    forest = _Forest(len(order))
    semi = forest.semi
    found = [0] * len(order)
    waiting: list[list[int]] = [[] for _ in order]
    for place in range(len(order) - 1, 0, -1):
        parent = above[place]
        semi[place] = min(semi[forest.lowest(other)] for other in before[place])
        waiting[semi[place]].append(place)
        forest.above[place] = parent
        for one in waiting[parent]:
            lowest = forest.lowest(one)
            found[one] = lowest if semi[lowest] < semi[one] else parent
        waiting[parent] = []
    for place in range(1, len(order)):
        if found[place] != semi[place]:
            found[place] = found[found[place]]
    return {vertex: order[found[place]] for place, vertex in enumerate(order)}


class _Forest:
    """Trees of vertices already looked at; a question asked of a vertex shortens the way of all it passes."""

    def __init__(self, count: int) -> None:
        self.above = [-1] * count
        self.label = list(range(count))
        self.semi = list(range(count))

    def lowest(self, vertex: int) -> int:
        """Of the vertices from this one up to its root, the root left out, the one whose semi is least."""
        above, label, semi = self.above, self.label, self.semi
        way = []
        while above[vertex] >= 0 and above[above[vertex]] >= 0:
            way.append(vertex)
            vertex = above[vertex]
        for one in reversed(way):
            upper = above[one]
            if semi[label[upper]] < semi[label[one]]:
                label[one] = label[upper]
            above[one] = above[upper]
            vertex = one
        return label[vertex]


def _depth_first(ways: Ways, root: int) -> tuple[list[int], list[int]]:
    """The vertices in the order a depth-first walk meets them, and for each place in it the place it was met from."""
    place = {root: 0}
    order, above = [root], [-1]
    stack = [(root, iter(ways[root]))]
    while stack:
        vertex, rest = stack[-1]
        for other, _ in rest:
            if other not in place:
                place[other] = len(order)
                order.append(other)
                above.append(place[vertex])
                stack.append((other, iter(ways[other])))
                break
        else:
            stack.pop()
    return order, above
