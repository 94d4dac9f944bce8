"""What each valve shuts off: the outlet sides that go dry when it closes, and the valves that stand before an outlet.

One dominator tree of the directed graph answers for all valves: an outlet side goes dry when every way to it passes
the valve. Water never comes back through a fixture, a mixing valve or a heater; normally closed valves let none pass.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from plancheck.network.graph import Graph
from plancheck.network.search import dominators
from plancheck.network.trace import directed


class Zones(NamedTuple):
    """dry: valve name -> outlet sides that go dry; before: outlet side -> valves on its only way, nearest first.

    unfed: outlet sides that get no water with the valves as they normally stand; entered and left give each vertex's
    span in the tree, so that a passes b when entered[a] <= entered[b] < left[a].
    """

    dry: Mapping[str, tuple[str, ...]]
    before: Mapping[str, tuple[str, ...]]
    unfed: tuple[str, ...]
    entered: Mapping[int, int]
    left: Mapping[int, int]

    def shuts(self, valve: int, vertex: int) -> bool:
        """Whether closing the valve (a vertex) keeps all water from the vertex."""
        if valve not in self.entered or vertex not in self.entered:
            return False
        return self.entered[valve] <= self.entered[vertex] < self.left[valve]


def find_zones(graph: Graph) -> Zones:
    """The zones of all valves of a graph, computed once; time grows about linearly."""
    if graph.source is None:
        return Zones(dict.fromkeys(graph.valves, ()), {}, tuple(graph.outlets), {}, {})
    tree = dominators(directed(graph, barred=graph.closed), graph.source)
    entered, left = _spans(tree, graph.source)
    sides = sorted((entered[tap], name) for name, tap in graph.outlets.items() if tap in entered)
    dry = {}
    for name, valve in graph.valves.items():
        inside = (side for side in sides if entered[valve] <= side[0] < left[valve]) if valve in entered else ()
        dry[name] = tuple(name for _, name in inside)
    named = {vertex: name for name, vertex in graph.valves.items()}
    before = {name: _valves_before(tap, tree, named) for name, tap in graph.outlets.items() if tap in tree}
    unfed = tuple(name for name, tap in graph.outlets.items() if tap not in tree)
    return Zones(dry, before, unfed, entered, left)


def _valves_before(vertex: int, tree: Mapping[int, int], named: Mapping[int, str]) -> tuple[str, ...]:
    found = []
    while tree[vertex] != vertex:
        vertex = tree[vertex]
        if vertex in named:
            found.append(named[vertex])
    return tuple(found)


def _spans(tree: Mapping[int, int], root: int) -> tuple[dict[int, int], dict[int, int]]:
    children: dict[int, list[int]] = {}
    for vertex, above in tree.items():
        if vertex != above:
            children.setdefault(above, []).append(vertex)
    entered, left = {}, {}
    stack = [(root, False)]
    clock = 0
    while stack:
        vertex, done = stack.pop()
        if done:
            left[vertex] = clock
            continue
        entered[vertex] = clock
        clock += 1
        stack.append((vertex, True))
        stack.extend((child, False) for child in children.get(vertex, ()))
    return entered, left
