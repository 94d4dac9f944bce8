"""Where hot and cold meet though nothing should join them: the smallest set of pieces to take out; swapped heaters.

The source and all cold sides on one bank, heater outlets and all hot sides on the other: the pieces are a least cut
between the banks, found by augmenting paths (L. R. Ford, D. R. Fulkerson 1956, from memory). A run that feeds a
manifold, or stands at the heater or the source, is not what one takes out if another will do; bodies of parts least.
"""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Iterator, Mapping

from plancheck.model import HeaterOwn, ManifoldOwn, MixingOwn, Plan, SourceOwn
from plancheck.network.search import Ways, reach
from plancheck.network.ways import Graph, directed, ways_of

Room = dict[int, dict[int, int]]  # vertex -> neighbour -> how much may still pass

_RUN, _FEED, _FIRM = 2, 5, 2000  # what a run counts, one that feeds a manifold or a heater, a joint or a body
_MOST_WAYS = 100  # no house is joined so often; past it a cut would take too long


def set_apart(plan: Plan, graph: Graph) -> Graph:
    """The graph with swapped heaters turned round, and without the ways through what wrongly joins hot and cold."""
    graph = _turned(plan, graph)
    crossovers, pieces = _cut(plan, graph, graph.ways)
    if not pieces:
        return graph
    return graph._replace(ways=directed(graph, pieces), crossovers=crossovers, joins=pieces)


def _turned(plan: Plan, graph: Graph) -> Graph:
    """The graph with those heaters turned whose feed comes to their hot side, as if their two connections were swapped."""
    heaters = [part.id for part in plan.parts.values() if isinstance(part.own, HeaterOwn) and part.id in graph.number]
    came = reach(graph.ways, [graph.source], graph.hearts | graph.bypasses) if graph.source is not None else {}
    swapped = frozenset(heater for heater in heaters if _is_swapped(graph, heater, came))
    if not swapped:
        return graph
    edges = list(graph.edges)
    for heater in swapped:
        for name in ("cold", "hot"):
            end = graph.number[f"{heater}/{name}"]
            for number in graph.touching[graph.number[heater]]:
                if end in edges[number][:2]:
                    edges[number] = edges[number]._replace(a=edges[number].b, b=edges[number].a)
    return graph._replace(edges=tuple(edges), ways=ways_of(edges, len(graph.names)), swapped=swapped)


def _is_swapped(graph: Graph, heater: str, came: Mapping[int, int]) -> bool:
    """Whether water of the source comes to the hot side and never to the cold one, and the cold one leads to outlets.

    A cold side that leads nowhere wants its feed: then what reaches the hot side joins hot and cold.
    """
    cold = graph.number[f"{heater}/cold"]
    if graph.number[f"{heater}/hot"] not in came or cold in came:
        return False
    return not reach(graph.ways, [cold], graph.hearts).keys().isdisjoint(graph.outlets.values())


def _cut(plan: Plan, graph: Graph, ways: Ways) -> tuple[tuple[str, ...], frozenset[int]]:
    """The runs (or parts) that wrongly join hot and cold, and the edges to leave out so that each water keeps its side.

    ways: all that water may take. Arrows count only the way they let it pass; a pump or check valve from hot into cold
    is a return, no crossover.
    """
    hot = list(_hot_ends(plan, graph))
    if graph.source is None or not hot or not _meet(graph, hot, ways):
        return (), frozenset()
    feeds = frozenset(graph.number[name] for name in _feeds(plan) if name in graph.number)
    cold, hot_sides = _sides(graph, hot)
    pieces = _between(graph, hot, _least_cut(graph, cold, hot_sides, feeds, _MOST_WAYS))
    if _meet(
        graph, hot, directed(graph, pieces)
    ):  # fixtures piped crosswise all along, or far too many: source and heater alone
        pieces = _least_cut(graph, {graph.source}, set(hot), feeds)
    runs = {run for number in pieces if (run := graph.edges[number].run) is not None}
    bodies = {graph.names[graph.edges[number].a].partition("/")[0] for number in pieces}
    return tuple(sorted(runs or bodies)), pieces


def _hot_ends(plan: Plan, graph: Graph) -> Iterator[int]:
    """Where hot and tempered water begins."""
    for part in plan.parts.values():
        end = None
        if isinstance(part.own, HeaterOwn):
            end = graph.hot_of(part.id)
        elif isinstance(part.own, MixingOwn):
            end = graph.number.get(f"{part.id}/mixed")
        if end is not None:
            yield end


def _feeds(plan: Plan) -> Iterator[str]:
    """The connections whose runs bring water on: of source and heaters, and the feeds of manifolds."""
    for part in plan.parts.values():
        if isinstance(part.own, ManifoldOwn):
            yield from (f"{part.id}/{port.id}" for port in part.own.ports.values() if port.use == "feed")
        elif isinstance(part.own, HeaterOwn | SourceOwn):
            yield from (f"{part.id}/{name}" for name in ("out", "cold", "hot"))


def _meet(graph: Graph, hot: list[int], ways: Ways) -> bool:
    """Whether water of the source comes to where hot begins without passing a heater, mixing valve or bypass."""
    if graph.source is None:
        return False
    return not reach(ways, [graph.source], graph.hearts | graph.bypasses).keys().isdisjoint(hot)


def _sides(graph: Graph, hot: list[int]) -> tuple[set[int], set[int]]:
    """Where cold belongs (the source, cold sides) and where hot belongs (heaters, the hot sides of fixtures)."""
    cold = {vertex for name, vertex in graph.number.items() if name.endswith("/cold") or vertex == graph.source}
    sides = {vertex for name, vertex in graph.number.items() if name.endswith("/hot") and f"{name}:tap" in graph.number}
    return cold.difference(hot), sides.union(hot)


def _between(graph: Graph, hot: list[int], pieces: frozenset[int]) -> frozenset[int]:
    """Of the pieces those that lead from the source's bank to the heaters'; a fixture piped crosswise is not one."""
    ways = directed(graph, pieces, graph.hearts | graph.bypasses)
    back: list[list[tuple[int, int]]] = [[] for _ in ways]
    for vertex, around in enumerate(ways):
        for other, number in around:
            back[other].append((vertex, number))
    cold_bank = reach(ways, [graph.source] if graph.source is not None else [])
    hot_bank = reach(back, hot)
    found = set()
    for number in pieces:
        a, b, _, one_way = graph.edges[number]
        if (a in cold_bank and b in hot_bank) or (b in cold_bank and a in hot_bank and not one_way):
            found.add(number)
    return frozenset(found)


def _least_cut(
    graph: Graph, cold: set[int], hot: set[int], feeds: frozenset[int], most: int = sys.maxsize
) -> frozenset[int]:
    """The edges of a least cut; none where more ways than `most` would have to be followed."""
    room: Room = {}
    for vertex, ways in enumerate(directed(graph, barred=graph.hearts | graph.bypasses)):
        for other, number in ways:
            mine = room.setdefault(vertex, {})
            counts = _FEED if vertex in feeds or other in feeds else _RUN
            mine[other] = mine.get(other, 0) + (counts if graph.edges[number].run is not None else _FIRM)
            room.setdefault(other, {}).setdefault(vertex, 0)
    start, end = len(graph.names), len(graph.names) + 1
    room[start] = {vertex: _FIRM * _FIRM for vertex in sorted(cold) if vertex in room}
    for vertex in hot & room.keys():
        room[vertex][end] = _FIRM * _FIRM
    found = 0
    while way := _shortest_way(room, start, end):
        found += 1
        if found > most:
            return frozenset()
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
