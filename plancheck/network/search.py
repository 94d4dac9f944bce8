"""Graph searches, each linear or nearly so: reach, bridges, dominators. Vertices are numbers; nothing of plumbing here."""

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
    """Edge numbers whose removal parts the undirected graph of the vertices that are members (Tarjan, without recursion).

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

    d dominates v when every way from the root to v passes d. Iterative method of K. D. Cooper, T. J. Harvey and
    K. Kennedy, A simple, fast dominance algorithm (2001), from memory.
    """
    order = _post_order(ways, root)
    number = {vertex: place for place, vertex in enumerate(order)}
    before: dict[int, list[int]] = {vertex: [] for vertex in order}
    for vertex in order:
        for other, _ in ways[vertex]:
            before[other].append(vertex)
    found = {root: root}
    changed = True
    while changed:
        changed = False
        for vertex in reversed(order[:-1]):
            best = -1
            for other in before[vertex]:
                if other in found:
                    best = other if best < 0 else _meet(best, other, found, number)
            if found.get(vertex) != best:
                found[vertex] = best
                changed = True
    return found


def _meet(a: int, b: int, found: dict[int, int], number: dict[int, int]) -> int:
    while a != b:
        while number[a] < number[b]:
            a = found[a]
        while number[b] < number[a]:
            b = found[b]
    return a


def _post_order(ways: Ways, root: int) -> list[int]:
    seen = {root}
    order: list[int] = []
    stack = [(root, iter(ways[root]))]
    while stack:
        vertex, rest = stack[-1]
        for other, _ in rest:
            if other not in seen:
                seen.add(other)
                stack.append((other, iter(ways[other])))
                break
        else:
            order.append(vertex)
            stack.pop()
    return order
