"""The cheapest vertices to take out so that nothing passes from a source to any of some ends (a least vertex cut)."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping

from plancheck.network.search import Ways

_Room = dict[int, dict[int, int]]  # node -> next node -> how much may still pass


def least_vertex_cut(ways: Ways, source: int, ends: Iterable[int], costs: Mapping[int, int]) -> frozenset[int] | None:
    """The cheapest set of vertices that all ways from the source to the ends pass; of equal sets the one nearest the ends.

    costs: vertex -> what taking it out costs, above zero; other vertices stay. None where a way passes none of them.
    By augmenting along shortest ways (J. Edmonds, R. M. Karp 1972, from memory), each vertex of the cut split in two.
    """
    sink, endless = 2 * len(ways), sum(costs.values()) + 1
    room = _network(ways, costs, endless)
    for end in ends:
        _join(room, _out(end, costs), sink, endless)
    passed = 0
    while passed < endless:
        came = _shortest(room, 2 * source, sink)
        if sink not in came:
            break
        passed += _push(room, came, sink)
    if passed >= endless:
        return None
    behind = _reaching(room, sink)
    return frozenset(vertex for vertex in costs if 2 * vertex + 1 in behind and 2 * vertex not in behind)


def _out(vertex: int, costs: Mapping[int, int]) -> int:
    """The node by which water leaves a vertex: of a vertex that may be cut not the one by which it comes in."""
    return 2 * vertex + 1 if vertex in costs else 2 * vertex


def _network(ways: Ways, costs: Mapping[int, int], endless: int) -> _Room:
    room: _Room = {}
    for vertex, around in enumerate(ways):
        if vertex in costs:
            _join(room, 2 * vertex, 2 * vertex + 1, costs[vertex])
        for other, _ in around:
            _join(room, _out(vertex, costs), 2 * other, endless)
    return room


def _join(room: _Room, a: int, b: int, width: int) -> None:
    here = room.setdefault(a, {})
    here[b] = here.get(b, 0) + width
    room.setdefault(b, {}).setdefault(a, 0)


def _shortest(room: _Room, start: int, end: int) -> dict[int, int]:
    """Node -> the node before it on a shortest way that still lets something pass."""
    came = {start: start}
    queue = deque([start])
    while queue and end not in came:
        node = queue.popleft()
        for other, width in room.get(node, {}).items():
            if width > 0 and other not in came:
                came[other] = node
                queue.append(other)
    return came


def _push(room: _Room, came: Mapping[int, int], end: int) -> int:
    """Lets as much pass as the way found has room for; how much that is."""
    way, node = [], end
    while came[node] != node:
        way.append((came[node], node))
        node = came[node]
    width = min(room[a][b] for a, b in way)
    for a, b in way:
        room[a][b] -= width
        room[b][a] += width
    return width


def _reaching(room: _Room, end: int) -> set[int]:
    """The nodes from which something may still come to the end."""
    found, frontier = {end}, [end]
    for node in frontier:  # grows while it is walked
        for other in room.get(node, {}):
            if other not in found and room[other][node] > 0:
                found.add(other)
                frontier.append(other)
    return found
