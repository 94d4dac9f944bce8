"""Where hot and cold meet though nothing should join them: the smallest set of pieces to take out.

Source and cold sides on one bank, heater outlets and hot sides on the other: the pieces are a least cut between the
banks, found by augmenting paths (L. R. Ford, D. R. Fulkerson 1956, from memory). Runs count one, all else is not cut
unless no run can be.
"""

from __future__ import annotations

from collections import deque

from plancheck.model import HeaterOwn, Plan
from plancheck.network.graph import Graph
from plancheck.network.search import reach

Room = dict[int, dict[int, int]]  # vertex -> neighbour -> how much may still pass

_FIRM = 1000  # what a joint or the body of a part counts beside a run's 1


def cut(plan: Plan, graph: Graph) -> tuple[tuple[str, ...], frozenset[int]]:
    """The runs (or parts) that wrongly join hot and cold, and the edges to leave out so that each water keeps its side.

    Arrows count only the way they let water pass; a pump or check valve from hot into cold is a return, no crossover.
    """
    hot = [
        graph.number[f"{part.id}/hot"]
        for part in plan.parts.values()
        if isinstance(part.own, HeaterOwn) and f"{part.id}/hot" in graph.number
    ]
    if graph.source is None or not hot or not _meet(graph, hot):
        return (), frozenset()
    pieces = _between(graph, hot, _least_cut(graph, hot))
    runs = {run for number in pieces if (run := graph.edges[number].run) is not None}
    bodies = {graph.names[graph.edges[number].a].partition("/")[0] for number in pieces}
    return tuple(sorted(runs or bodies)), pieces


def _ways(graph: Graph, without: frozenset[int] = frozenset()) -> list[list[tuple[int, int]]]:
    out = graph.hearts | graph.bypasses
    ways: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for number, (a, b, _, one_way) in enumerate(graph.edges):
        if a not in out and b not in out and number not in without:
            ways[a].append((b, number))
            if not one_way:
                ways[b].append((a, number))
    return ways


def _meet(graph: Graph, hot: list[int]) -> bool:
    return graph.source is not None and not reach(_ways(graph), [graph.source]).keys().isdisjoint(hot)


def _between(graph: Graph, hot: list[int], pieces: frozenset[int]) -> frozenset[int]:
    """Of the pieces those that join the source's bank to the heaters'; a fixture piped crosswise is not one of them."""
    ways = _ways(graph, pieces)
    cold_bank = reach(ways, [graph.source] if graph.source is not None else [])
    hot_bank = reach(ways, hot)
    found = set()
    for number in pieces:
        a, b = graph.edges[number].a, graph.edges[number].b
        if (a in cold_bank and b in hot_bank) or (a in hot_bank and b in cold_bank):
            found.add(number)
    return frozenset(found)


def _least_cut(graph: Graph, hot: list[int]) -> frozenset[int]:
    room: Room = {}
    for vertex, ways in enumerate(_ways(graph)):
        for other, number in ways:
            mine = room.setdefault(vertex, {})
            mine[other] = mine.get(other, 0) + (1 if graph.edges[number].run is not None else _FIRM)
            room.setdefault(other, {}).setdefault(vertex, 0)
    start, end = len(graph.names), len(graph.names) + 1
    cold = {graph.source, *(number for name, number in graph.number.items() if name.endswith("/cold"))}
    room[start] = {vertex: _FIRM * _FIRM for vertex in cold if vertex is not None and vertex in room}
    for name, vertex in graph.number.items():
        if vertex in room and (vertex in hot or (name.endswith("/hot") and f"{name}:tap" in graph.number)):
            room[vertex][end] = _FIRM * _FIRM
    while way := _shortest_way(room, start, end):
        width = min(room[a][b] for a, b in way)
        for a, b in way:
            room[a][b] -= width
            back = room.setdefault(b, {})
            back[a] = back.get(a, 0) + width
    bank = _flood(room, start)
    return frozenset(
        number
        for number, (a, b, _, one_way) in enumerate(graph.edges)
        if (a in bank and b not in bank) or (b in bank and a not in bank and not one_way)
    )


def _shortest_way(room: Room, start: int, end: int) -> list[tuple[int, int]]:
    came = {start: start}
    queue = deque([start])
    while queue:
        vertex = queue.popleft()
        for other, width in room.get(vertex, {}).items():
            if width > 0 and other not in came:
                came[other] = vertex
                queue.append(other)
        if end in came:
            break
    if end not in came:
        return []
    way = []
    while end != start:
        way.append((came[end], end))
        end = came[end]
    return way[::-1]


def _flood(room: Room, start: int) -> set[int]:
    seen = {start}
    frontier = [start]
    for vertex in frontier:
        for other, width in room.get(vertex, {}).items():
            if width > 0 and other not in seen:
                seen.add(other)
                frontier.append(other)
    return seen
